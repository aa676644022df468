/** Words for what a station has and welds, shared by several pages. */
export const claim = {
  claim: {
    devices: {
      "variable-area": "tube with a float",
      "orifice-gauge": "gauge with a flow dial",
      metered: "meter of true flow",
    },
    process: "What is welded",
    processes: { GTAW: "TIG", GMAW: "MIG/MAG", "FCAW-G": "flux-cored, with gas" },
  },
};
