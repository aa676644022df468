/** Words that explain a figure: how it was computed, from which readings, by which source. */
export const explain = {
  title: "How this comes about",
  close: "Close",
  openStation: "Open the station",
  from: "From",
  source: "By",
  notKnown: (why: string) => `Not known: ${why}.`,
  asOf: (age: string) => `Newest reading ${age}.`,
  interval: "Bounds hold the truth 19 times in 20.",
  sensor: (range: string, accuracy: string) =>
    `Sensor 0 to ${range}, true to ±${accuracy} % of its range.`,
  gauge: "Gauge pressure: zero is the air around.",
  fields: {
    flow: "True flow",
    next: "Flow of the next gas-on",
    demand: "What this weld needs",
    indicated: "What the device should show",
    "dial-to": "What to set",
    content: "Gas in the cylinder",
    usable: "Usable gas",
    left: "Gas-on time left",
    clock: "Empty by this station's habit",
    leak: "Standing loss",
    "cylinder-pressure": "Cylinder pressure",
    "line-pressure": "Line pressure",
    temperature: "Temperatures",
  },
  readings: {
    "cylinder-pressure": "cylinder pressure",
    "line-pressure": "line pressure",
    "cylinder-temperature": "cylinder wall",
    "regulator-temperature": "regulator body",
    arc: "arc",
  },
  methods: {
    "flow-line":
      "Line pressure drives gas through the restriction. How wide that is was learnt from how fast the cylinder empties.",
    "flow-cylinder":
      "How fast the gas in the cylinder becomes less, from its pressure and temperature. It is slow, and right.",
    "flow-both":
      "Line pressure through the restriction, quick, held against how fast the cylinder empties, slow and right.",
    "flow-meter": "A flow meter tells it.",
    "flow-none": "No gas flows: line and cylinder pressure hold still.",
    unknown: "It is not known.",
    next: "The line pressure to come, through the restriction as it was at the last gas-on.",
    "demand-table":
      "From process, cup or nozzle, material, current and draught, by tables of welding practice.",
    "demand-own": "Given with the procedure of this station.",
    "demand-none": "No procedure is set, so no window can be given.",
    "indicated-tube":
      "A float feels how dense the gas in the tube is: the reading follows from the true flow, the gas and the pressure in the tube against those its scale was made for.",
    "indicated-gauge":
      "The dial shows a pressure as the flow of its own gas through its own hole: the reading follows from the line pressure.",
    "indicated-meter": "The meter shows the true flow of the gas it is set to.",
    "dial-to":
      "The reading at which the true flow meets the target, with the sag of the regulator at that flow counted in.",
    content:
      "Pressure, gas temperature and water volume give the amount of gas, by the equation of state of the real gas.",
    "content-held":
      "Held from the last reading with the cylinder valve open; with it closed the pressure says nothing.",
    "content-liquid":
      "While some of it is liquid the pressure says nothing about how much there is. What was drawn is taken off what was filled.",
    usable:
      "What lies above the residual pressure, and above the pressure at which the regulator no longer gives the flow this weld needs.",
    "left-now": "Usable gas over the present flow.",
    "left-target": "Usable gas over the flow this weld needs, which is more than flows now.",
    clock: "Gas-on time left over how much gas-on this station has by hour and weekday.",
    leak: "The amount of gas that goes while none flows to the torch, freed of what heat and cold do to the pressure.",
    measured: "Measured by a sensor of this station's node.",
    "measured-none":
      "No sensor tells it now: none is fitted, it is in fault, or nothing was received.",
  },
};
