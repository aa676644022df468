import type { claim as english } from "../english/claim.ts";

/** Spanish: words for what a station has and welds, shared by several pages. */
export const claim: typeof english = {
  claim: {
    devices: {
      "variable-area": "tubo con flotador",
      "orifice-gauge": "manómetro con escala de caudal",
      metered: "medidor de caudal real",
    },
    process: "Qué se suelda",
    processes: { GTAW: "TIG", GMAW: "MIG/MAG", "FCAW-G": "hilo tubular con gas" },
  },
};
