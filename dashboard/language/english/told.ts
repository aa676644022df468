/** What people have told Leeward, as it stands on the Station page, and what a reading can mean. */
export const told = {
  told: {
    title: "Told so far",
    purgeFor: (time: string) => `Purge on for ${time}; measure the oxygen before welding.`,
    purgeMinutes: (time: string, of: string) =>
      `Purge on for ${time} of ${of}; measure the oxygen before welding.`,
    purgeVolumes: (passed: string) =>
      `${passed} volumes through; measure the oxygen before welding.`,
    purgeVolumesOf: (passed: string, of: string) =>
      `${passed} of ${of} volumes through; keep purging.`,
    purgeProgress: "Progress of the purge",
    job: (job: string) => `Job ${job}`,
    jobNoNumber: "A job without a number",
    gasless: "No gas wanted",
    welder: (name: string) => `welder ${name}`,
    since: (time: string) => `since ${time}`,
    unassigned: "No job has been told: gas used now stays unassigned until somebody claims it.",
    code: "Scan or type a code",
    codeNote:
      "P before a procedure, J before a job, W before a welder: P:WPS-12 J:4711 W:Anna. A scanner that types will do.",
    codeScan: "Scan",
    codeNoCamera: "Codes can be typed. The camera needs this page over https:",
    codeCameraHow: "how to get it",
    codeUse: "Use it",
    codeUnknown: (code: string) =>
      `No procedure ${code} is known here yet. Choose it below; it is then known by this code.`,
    codeBad: "Nothing in this code is known. It starts with P:, J: or W:.",
    welderName: "Welder (may stay empty)",
    undo: "Take the change back",
    undoNote: (until: string) =>
      `A change was told. If by mistake, it can be taken back until ${until}.`,
    undone: "Taken back: the cylinder before it counts again.",
    inOrder: "In order of likelihood:",
    thenFlow: (flow: string) => `Then the true flow is ${flow}.`,
    lost: (flow: string) => `About ${flow} is lost before the device.`,
    likeGas: (gas: string) => `It would fit ${gas}.`,
    likeTube: (pressure: string) => `It would fit a tube stamped ${pressure}.`,
    likeTubeGas: (gas: string) => `It would fit a scale for ${gas}.`,
    causes: {
      "read-at": {
        name: "Read at another part of the float.",
        look: "Half a ball is easily half a litre.",
      },
      tube: {
        name: "A tube or dial made for another gas or pressure.",
        look: "Compare what is printed on it with the set-up.",
      },
      gas: {
        name: "Another gas than the set-up says.",
        look: "Stop and read the label on the cylinder; it counts, not the colour.",
      },
      tilt: { name: "A tube that is not upright.", look: "Hang it plumb and read again." },
      stuck: {
        name: "A float that sticks.",
        look: "Press gas test and watch it move; tap the tube.",
      },
      leak: {
        name: "A leak before the device.",
        look: "Leak-test solution on every joint up to the device, never a flame.",
      },
      gauge: {
        name: "A gauge that no longer tells the truth.",
        look: "With the pressure off, its needle must rest at its stop.",
      },
      "meter-gas": {
        name: "A meter set to another gas.",
        look: "Compare its setting with the label on the cylinder.",
      },
      pressures: {
        name: "Leeward's own figure is off.",
        look: "A sensor that drifted, or a cylinder described wrongly: a test on the Bench settles it.",
      },
    },
  },
};
