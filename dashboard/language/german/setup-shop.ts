import type { ShopWords } from "../english/setup-shop.ts";

/** German: setting up the shop, its warnings and phones, and printed labels. */
export const shop: ShopWords = {
  labelPage: {
    title: (name) => `Etikett von ${name}`,
    note: "Drucken und am Platz anbringen: Gelesen öffnet es die Seite des Platzes.",
    address: "Adresse, unter der Telefone diese Seiten erreichen",
    local:
      "Diese Adresse gilt nur auf diesem Rechner: die angeben, die Telefone im Betrieb benutzen.",
    print: "Drucken",
    alt: (address) => `Code, der ${address} öffnet`,
    scan: "Lesen: Durchfluss, Restzeit, was einzustellen ist",
  },
  shopPage: {
    besideDemo:
      "Das ist Ihr eigener Betrieb. Name und Zeiten der Vorführung bleiben auf den Bildschirmen, bis sie endet.",
    name: "Wie der Betrieb genannt wird",
    timeZone: "Zeitzone",
    zoneNote:
      "Eine neue Zeitzone gilt für Schätzungen und Alarme ab dem nächsten Start des Gateways.",
    currency: "Währung",
    units: "Einheiten in Texten und Nachrichten",
    flow: "Durchfluss",
    pressure: "Druck",
    temperature: "Temperatur",
    shifts: "Schichten",
    shiftNote: "Ein angesagtes Spülen oder ein Auftrag endet spätestens mit der Schicht.",
    powerOff: "Hauptschalter aus",
    powerNote: "Die Knoten schweigen dann planmäßig, und niemand wird dafür geweckt.",
    from: "von",
    to: "bis",
    dayNames: ["Mo", "Di", "Mi", "Do", "Fr", "Sa", "So"],
    addSpan: "Hinzufügen",
    removeSpan: (n) => `Zeile ${n} entfernen`,
    save: "Den Betrieb speichern",
    saved: "Gespeichert.",
    conflict: "Jemand anderes hat es inzwischen geändert: die Seite neu laden und ansehen.",
    delivery: "Wer von Alarmen erfährt",
    noContacts: "Noch niemand: Alarme bleiben auf den Bildschirmen.",
    contactName: "Name der Person",
    way: "Weg",
    ways: {
      email: "E-Mail",
      push: "Nachricht aufs Telefon",
      webhook: "Webadresse",
      mqtt: "Alarm-Topic",
      node: "Lampe am Platz",
    },
    to_: "Adresse",
    addTitle: "Ein neuer Kontakt",
    add: "Diesen Kontakt hinzufügen",
    test: (name) => `Probe an ${name} senden`,
    removeContact: (name) => `${name} entfernen`,
    webUrl: "Webadresse, mit https://",
    secret: "Gemeinsames Geheimnis für die Signatur, mindestens 24 Zeichen",
    secretNote:
      "Der Empfänger prüft damit die Signatur. Es wird nicht noch einmal gezeigt: auch dort hinterlegen.",
    makeSecret: "Eines erzeugen",
    unsaved: "Noch nicht gespeichert: Es gilt, sobald unten gespeichert ist.",
    testing: "Unterwegs …",
    testStates: {
      waiting: "wartet",
      delivered: "angekommen",
      failed: "gescheitert",
      cancelled: "zurückgenommen",
    },
    quiet: "Ruhezeit",
    quietOn: "Nachts nur, was jemandes Sicherheit betrifft",
    publicUrl: "Adresse dieser Seiten für Links in Nachrichten",
    mail: "Mailserver",
    mailOn: "Es gibt einen Mailserver",
    mailHost: "Seine Adresse",
    mailPort: "Anschluss (Port)",
    mailFrom: "Absender",
    mailUser: "Benutzer",
    mailPassword: "Passwort",
    pushSubject: "E-Mail-Adresse, an die Push-Dienste schreiben dürfen",
    saveDelivery: "Speichern, wer davon erfährt",
    first:
      "Ein erster Kontakt erfährt sofort von jedem Alarm, bis unten eine andere Kette gesetzt ist.",
    mailNeeds:
      "E-Mail braucht einen Mailserver, Nachrichten aufs Telefon eine Adresse, an die ihre Dienste schreiben dürfen: beides unten.",
  },
  chains: {
    title: "Wer von welchem Alarm erfährt",
    intro:
      "Die erste Kette, die zu einem Alarm passt, gilt. Spätere Schritte werden zurückgenommen, sobald jemand ihn gesehen hat oder er vorbei ist.",
    none: "Noch keine Kette: Was geschieht, steht höchstens in der täglichen Sammelmeldung.",
    chain: (n) => `Kette ${n}`,
    step: (chain, n) => `Schritt ${n} der Kette ${chain}`,
    priorities: {
      high: "dringende Alarme",
      medium: "Alarme für bald",
      low: "Alarme zum Einplanen",
    },
    allStations: "Von allen Plätzen",
    after: "Erfährt davon",
    atOnce: "sofort",
    minutes: (n) => `nach ${n} min, wenn niemand ihn gesehen hat`,
    nobody: "Niemand ist angekreuzt: Dieser Schritt erreicht niemanden.",
    noPriority: "Keine Dringlichkeit ist angekreuzt: Diese Kette übernimmt keinen Alarm.",
    noStation: "Kein Platz ist angekreuzt: Diese Kette übernimmt keinen Alarm.",
    digestNobody: "Niemand ist angekreuzt: Die Zusammenfassung erreicht niemanden.",
    add: "Kette hinzufügen",
    remove: "Kette entfernen",
    addStep: "Schritt hinzufügen",
    removeStep: "Schritt entfernen",
    digest: "Tägliche Sammelmeldung",
    digestNote:
      "Was keine Kette nimmt, geht einmal am Tag gesammelt hinaus, mit einer Leitung, die unter Druck blieb.",
    digestOn: "Sammelmeldung senden",
    digestAt: "Um",
  },
  outbox: {
    title: "Nachrichten unterwegs",
    intro: "Die neuesten Nachrichten, auch Proben und Sammelmeldungen, und wie weit jede kam.",
    none: "Noch wurde nichts gesendet.",
    to: (contact, way, time) => `an ${contact}, ${way}, ${time}`,
    due: (time) => `bis ${time}`,
    attempts: (n) => `(${n} Versuche)`,
    again: "Noch einmal nachsehen",
  },
  outside: {
    title: "Von außen erproben",
    intro:
      "Am Telefon das WLAN der Werkstatt ausschalten, oben die Probe senden und sie dort lesen: Der Text muss vollständig sein. Dann den Link öffnen.",
    needs: {
      push: "Das Telefon muss diese Seite einmal über https geöffnet haben, um Nachrichten anzunehmen. Danach braucht das Gateway einen Weg hinaus zum Push-Dienst; nichts in der Werkstatt muss erreichbar sein.",
      email:
        "Das Gateway braucht einen Weg hinaus zum Mailserver. Nichts in der Werkstatt muss erreichbar sein, auch kein https.",
      webhook:
        "Das Gateway muss die Adresse erreichen. Außerhalb der Werkstatt sollte sie https sein, sonst lesen andere mit.",
      mqtt: "Wer zuhört, muss den Broker erreichen: Das bleibt in der Werkstatt, solange ihn niemand öffnet.",
      node: "Bleibt in der Werkstatt.",
    },
    reach: {
      none: "Nachrichten tragen keinen Link: Die Adresse dieser Anzeige ist unten nicht angegeben. Der Text ist ohne ihn vollständig.",
      plain:
        "Der Link geht über einfaches http: Draußen können andere mitlesen. Https vor die Anzeige setzen.",
      local:
        "Der Link nennt eine Adresse, die nur das Netz der Werkstatt kennt: Draußen öffnet er sich nicht, der Text kommt trotzdem an.",
      outside:
        "Der Link ist eine https-Adresse: Er sollte sich draußen öffnen. Nur die Probe von dort zeigt es.",
    },
  },
  push: {
    title: "Nachrichten auf diesem Gerät",
    contact: "Für",
    take: "Hier Nachrichten empfangen",
    stop: "Hier keine Nachrichten mehr empfangen",
    taking: (name) => `Dieses Gerät empfängt Nachrichten für ${name}.`,
    nobody: "Noch soll niemand Nachrichten aufs Telefon bekommen: das sagen unter",
    denied:
      "Der Browser erlaubt keine Nachrichten: in seinen Einstellungen für diese Seite erlauben.",
    failed: (why) => `Der Browser konnte sich nicht anmelden: ${why}`,
  },
  phonePage: {
    title: "Was ein Telefon braucht",
    secure: "Diese Seite kam über https oder von diesem Rechner: Nichts steht im Weg.",
    insecure:
      "Diese Seite kam über einfaches http. Ein Telefon zeigt dann alles, aber es installiert nichts, bekommt keine Nachrichten und gibt keine Kamera her.",
    items: {
      install: "Auf den Startbildschirm legen und ohne Netz öffnen",
      push: "Nachrichten von Alarmen",
      camera: "Codes mit der Kamera lesen",
    },
    works: "geht hier",
    missing: "hier nicht",
    noBrowser: "dieser Browser kann es nicht",
    waysTitle: "Zwei Wege zu https",
    domain: "Eine eigene Domain",
    domainText:
      "Einen Namen wie gas.ihrbetrieb.example auf das Gateway zeigen lassen und einen Reverse Proxy mit öffentlichem Zertifikat davorsetzen. An den Telefonen ist nichts zu tun.",
    authority: "Eine eigene Zertifizierungsstelle",
    authorityText:
      "Eine Zertifizierungsstelle für den Betrieb machen, von ihr ein Zertifikat für Namen oder Adresse des Gateways ausstellen lassen und ihr eigenes auf jedem Telefon installieren: auf iPhones als Profil (danach das volle Vertrauen einschalten), auf Android als CA-Zertifikat. Wer ihren Schlüssel hat, kann mitlesen: Er gehört nicht ins Netz.",
    typed: "Codes lassen sich immer eintippen.",
    more: "Beides steht ausführlich in docs/https.md.",
  },
};
