/** The settings dialog. */
export const settings = {
  units: {
    open: (unit: string, reference: string) => `${unit} at ${reference}`,
    title: "Language, units and look",
    intro: "For this device only. Readings to set stay in the unit printed on the regulator.",
    language: "Language",
    languageOfDevice: "as the device",
    flow: "Flow",
    pressure: "Pressure",
    temperature: "Temperature",
    reference: "Volumes are counted at",
    theme: "Look",
    themes: { system: "as the device", light: "light", dark: "dark" },
    references: {
      us: "70 °F, 14.696 psia",
      trade: "15 °C, 1 bar abs",
      iso: "15 °C, 1 atm",
      normal: "0 °C, 1 atm",
      metric20: "20 °C, 1 atm",
    },
    referenceNames: {
      us: "US gas trade",
      trade: "European cylinder trade",
      iso: "ISO 13443",
      normal: "normal litres",
      metric20: "metric, 20 °C",
    },
    referenceNote: "1 atm is 101.325 kPa. The same gas counts up to 8 % differently.",
    close: "Done",
  },
};
