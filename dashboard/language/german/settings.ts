import type { settings as english } from "../english/settings.ts";

/** German: the settings dialog. */
export const settings: typeof english = {
  units: {
    open: (unit, reference) => `${unit} bei ${reference}`,
    title: "Sprache, Einheiten und Aussehen",
    intro:
      "Nur für dieses Gerät. Was einzustellen ist, bleibt in der Einheit, die auf dem Druckminderer steht.",
    language: "Sprache",
    languageOfDevice: "wie das Gerät",
    flow: "Durchfluss",
    pressure: "Druck",
    temperature: "Temperatur",
    reference: "Gasmengen gelten bei",
    theme: "Aussehen",
    themes: { system: "wie das Gerät", light: "hell", dark: "dunkel" },
    references: {
      us: "70 °F, 14,696 psia",
      trade: "15 °C, 1 bar abs",
      iso: "15 °C, 1 atm",
      normal: "0 °C, 1 atm",
      metric20: "20 °C, 1 atm",
    },
    referenceNames: {
      us: "Gashandel USA",
      trade: "Flaschenhandel Europa",
      iso: "ISO 13443",
      normal: "Normliter",
      metric20: "metrisch, 20 °C",
    },
    referenceNote: "1 atm sind 101,325 kPa. Dasselbe Gas zählt bis zu 8 % verschieden.",
    close: "Fertig",
  },
  push: {
    title: "Nachrichten auf diesem Gerät",
    obstacle: {
      https:
        "Push-Nachrichten brauchen https. Zwei Wege: eine eigene Domain hinter einem Reverse-Proxy mit Zertifikat, oder eine eigene Zertifizierungsstelle, deren Profil auf diesem Telefon installiert ist.",
      browser:
        "Dieser Browser nimmt keine Push-Nachrichten an. Am Telefon Leeward zuerst zum Startbildschirm hinzufügen.",
      denied:
        "Diesem Browser wurde gesagt, keine Nachrichten dieser Seite zu zeigen. Erlauben Sie sie in seinen Einstellungen.",
    },
    nobody: "Kein Kontakt soll per Push benachrichtigt werden. Fügen Sie diesen Weg zuerst hinzu.",
    take: (name) => `Nachrichten für ${name} kommen hierher`,
    done: "Dieses Gerät nimmt jetzt Nachrichten an. Senden Sie auf der Seite Alarme eine Probe.",
    failed:
      "Der Browser oder sein Push-Dienst hat abgelehnt. Nachrichten erlauben, Internetverbindung prüfen, noch einmal versuchen.",
  },
};
