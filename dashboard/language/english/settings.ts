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
  push: {
    title: "Messages on this device",
    obstacle: {
      https:
        "Push messages need https. Two ways: a domain of your own behind a reverse proxy with a certificate, or an authority of your own whose profile is installed on this phone.",
      browser:
        "This browser takes no push messages. On a phone, add Leeward to the home screen first.",
      denied: "This browser was told to show no messages of this page. Allow them in its settings.",
    },
    nobody: "No contact is to be told by push. Add that way to a contact first.",
    take: (name: string) => `Messages for ${name} come here`,
    done: "This device takes messages now. Send a test from the Alarms page.",
    failed:
      "The browser or its push service refused. Allow messages, check the internet connection, and try again.",
  },
};
