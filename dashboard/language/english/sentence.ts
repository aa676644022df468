/** The one sentence of a station, on its tile and its page. */
export const sentence = {
  sentence: {
    noDataYet: "No data yet.",
    noNode: "No node is bound to this station.",
    noNodeAdvice: "Bind one in Setup: until then nothing is measured here.",
    clockAhead: (ahead: string) => `Node clock wrong: ${ahead} ahead.`,
    clockAheadAdvice:
      "Its readings are refused until the clock is right: let the node reach the shop's time, then restart it.",
    halfSetUp: "Set-up is not finished.",
    parts: {
      regulator: "the regulator",
      flowDevice: "the flow device",
      procedure: "what is welded",
    },
    notDescribed: (parts: string) =>
      `Not described yet: ${parts}. Without it no flow can be judged.`,
    toSetup: "Finish set-up",
    oldTitle: (age: string) => `No fresh data; last ${age}.`,
    lastKnown: (age: string) => `Last known ${age}.`,
    oldAdvice: "What is shown may no longer hold.",
    nodeOffline: "The node is off line: check its power and network.",
    flowUnknown: "Gas is on; how much is not known.",
    noWindow: "Gas flows. What this weld needs is not set, so right or wrong cannot be said.",
    notJudged: "Gas flows; whether it is right cannot be said.",
    liquid: "Liquid remains: pressure cannot tell how much.",
    verdict: {
      right: "Gas flow is right.",
      low: "Less gas than this weld needs.",
      high: "More gas than this weld needs.",
      "near-low": "Gas flow is close to the least this weld needs.",
      "near-high": "Gas flow is close to the most this weld needs.",
    },
    off: "Gas is off.",
    next: {
      right: "Gas is off. The next gas-on gives the flow this weld needs.",
      low: "Gas is off. The next gas-on would give too little.",
      high: "Gas is off. The next gas-on would give too much.",
      "near-low": "Gas is off. The next gas-on is close to the least this weld needs.",
      "near-high": "Gas is off. The next gas-on is close to the most this weld needs.",
    },
    setBefore: (reading: string, unit: string) =>
      `Press gas test and set ${reading} ${unit} before the arc.`,
    valveClosed: "Cylinder valve closed.",
    valveClosedNote: "Content is held from the last reading with the valve open.",
    neverOpen: "No gas pressure yet.",
    neverOpenNote:
      "The cylinder valve was never seen open here: it is closed, or the sensors are not fitted.",
    unknown: "Nothing certain yet.",
    unknownNote: "Just started, or readings that contradict each other.",
    silent: "The node is silent.",
    more: (n: number) => (n === 1 ? "1 more" : `${n} more`),
    since: (time: string) => `since ${time}`,
    moreTitle: "Also",
  },
};
