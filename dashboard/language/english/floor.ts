/** The Floor and the wall view. */
export const floor = {
  floor: {
    title: "Floor",
    empty: "No station yet.",
    emptyNote: "A node that reports will appear here; one tap then claims it.",
    unclaimedTitle: "Nodes that no station claims",
    unclaimedNote: "Raw pressures only: without a station nothing more can be said.",
    claim: "Claim this node",
    lastSample: (age: string) => `last sample ${age}`,
    stood: (place: string, until: string) => `Stood at ${place} until ${until}.`,
    speaksAgain: "It speaks again.",
    asideTitle: "Set aside",
    asideNote:
      "Replaced or taken away, and silent since. One that speaks again is offered as free.",
    aside: (node: string, place: string, until: string, age: string) =>
      `${node} stood at ${place} until ${until}; last sample ${age}.`,
    open: (name: string) => `Open ${name}`,
    channels: {
      "cylinder-pressure": "Cylinder",
      "line-pressure": "Line",
      "cylinder-temperature": "Cylinder wall",
      "regulator-temperature": "Regulator",
      "ambient-temperature": "Air",
      arc: "Arc",
      "cylinder-mass": "Scale",
      "supply-voltage": "Supply",
    },
    yes: "yes",
    no: "no",
    page: (n: number, of: number) => `${n} of ${of}`,
  },
};
