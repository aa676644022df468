import type { claim as english } from "../english/claim.ts";

/** German: words for what a station has and welds, shared by several pages. */
export const claim: typeof english = {
  claim: {
    devices: {
      "variable-area": "Messrohr mit Schwebekörper",
      "orifice-gauge": "Manometer mit Durchflussskala und Staudüse",
      metered: "Messgerät für den wahren Durchfluss",
    },
    process: "Was geschweißt wird",
    processes: { GTAW: "WIG", GMAW: "MIG/MAG", "FCAW-G": "Fülldraht mit Gas" },
  },
};
