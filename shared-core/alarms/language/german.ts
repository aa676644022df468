import { germanConditions } from "./german-conditions.ts";
import { germanReasons } from "./german-reasons.ts";
import { type AlarmLanguage, type Formats, type Sentences, titlesOf } from "./say.ts";

const bare = (text: string) => () => text;
const within = (inS: number, f: Formats) => (inS <= 0 ? "bereits" : `in etwa ${f.span(inS)}`);

const room = (at: string | undefined) => (at === undefined ? "im Raum" : `bei ${at}`);

const channels: Readonly<Record<string, string>> = {
  "cylinder-pressure": "Drucksensor der Flasche",
  "line-pressure": "Drucksensor der Leitung",
  "cylinder-temperature": "Temperatursensor der Flasche",
  "regulator-temperature": "Temperatursensor des Druckminderers",
  "ambient-temperature": "Raumtemperatursensor",
  "cylinder-mass": "Flaschenwaage",
  arc: "Lichtbogensignal",
};

const faults: Readonly<Record<string, string>> = {
  "open-circuit": "Leitungsbruch",
  "short-circuit": "Kurzschluss",
  "out-of-range": "außerhalb des Messbereichs",
  stuck: "steht still",
  noisy: "unruhig",
  "node-silent": "kein Zeichen von seinem Knoten",
  "fallen-off": "ist von der Flasche abgefallen",
};

const unsuited = {
  "tig-inert":
    "WIG braucht ein inertes Gas: CO2 oder Sauerstoff verbrennt die Wolframelektrode und die Naht",
  "aluminium-inert": "Aluminium braucht ein inertes Gas: CO2 oder Sauerstoff verdirbt die Naht",
  "aluminium-hydrogen": "Wasserstoff macht Aluminium porig",
  "cored-wire": "Fülldraht mit Gas braucht CO2 oder ein Mischgas mit CO2",
};

/** The device with its article, as subject and as object. */
const devices = {
  float: { der: "Der Schwebekörper", den: "Den Schwebekörper" },
  gauge: { der: "Das Manometer", den: "Das Manometer" },
  meter: { der: "Der Durchflussmesser", den: "Den Durchflussmesser" },
};
const ways = { up: "höher auf", down: "niedriger auf", back: "zurück auf" };

const sentences: Sentences = {
  "welding-without-gas": bare("HALT: Schweißen ohne Gas"),
  "hose-pressure-odd": bare("Schlauchdruck nicht wie gewohnt"),
  "hose-blocked": ({ share }, f) =>
    `Etwas versperrt dem Gas den Weg: Schlauchdruck ${share === null ? "" : `${f.percent(share)} `}höher als gewohnt`,
  "hose-open": ({ share }, f) =>
    `Gas entweicht vor der Gasdüse: Schlauchdruck ${share === null ? "" : `${f.percent(share)} `}niedriger als gewohnt`,
  "calibration-overdue": ({ s }, f) =>
    s === null ? "Kalibrierung überfällig" : `Kalibrierung überfällig seit ${f.span(s)}`,
  "cylinder-empty": ({ pa }, f) => `Flasche leer${pa === null ? "" : `: noch ${f.pressure(pa)}`}`,
  "cylinder-low": ({ share }, f) =>
    `Flasche geht zur Neige${share === null ? "" : `: noch ${f.percent(share)}`}`,
  "gas-on-without-arc": ({ s }, f) => `Gas strömt seit ${f.span(s)} ohne Lichtbogen`,
  "gas-on-for": ({ s }, f) => `Gas strömt seit ${f.span(s)}`,
  "gas-on-long": ({ s }, f) => `Gas strömt seit ${f.span(s)}, länger als hier üblich`,
  "purge-on": ({ s }, f) => `Formieren läuft seit ${f.span(s)}`,
  "purge-past-time": ({ s, wantedS }, f) =>
    `Formieren von ${f.span(wantedS)} gemeldet, läuft seit ${f.span(s)}: noch gewollt?`,
  "purge-past-volumes": ({ wanted, passed }, f) =>
    `Formieren mit ${f.number(wanted)} Volumen gemeldet, ${f.number(passed)} sind durch: noch gewollt?`,
  "purge-long": ({ s }, f) =>
    `Formieren läuft seit ${f.span(s)}, länger als hier üblich: noch gewollt?`,
  "danger-confined": bare("der Platz ist ein enger Raum"),
  "danger-confined-at": ({ at }) => `${at} ist ein enger Raum`,
  "danger-oxygen": ({ inS, at }, f) =>
    `der Sauerstoff ${room(at)} könnte ${within(inS, f)} auf 19,5 % fallen`,
  "danger-co2-short": ({ inS, at }, f) =>
    `das CO2 ${room(at)} könnte ${within(inS, f)} 3 % erreichen`,
  "danger-co2-long": ({ inS, at }, f) =>
    `das CO2 ${room(at)} könnte ${within(inS, f)} 0,5 % erreichen`,
  "gas-leaks": ({ lpm }, f) =>
    `Gas tritt aus${lpm === null ? "" : `: ${f.flow(lpm)}, ${f.volume(lpm * 1440)} am Tag`}`,
  "line-rises": (of, f) =>
    `Leitungsdruck steigt: jetzt ${f.pressure(of.pa)}, in etwa ${f.span(of.inS)} an der Grenze von ${f.pressure(of.limitPa)}`,
  "line-at-limit": (of, f) =>
    `Leitungsdruck an der Grenze${of.limitPa === null ? "" : ` von ${f.pressure(of.limitPa)}`}${of.pa === null ? "" : `: ${f.pressure(of.pa)}`}`,
  "nobody-reachable": bare("Niemand ist erreichbar: Alarme kommen aus diesem Raum nicht hinaus"),
  "node-clock-wrong": bare("Die Uhr des Knotens geht falsch"),
  "node-clock-ahead": ({ s }, f) =>
    `Die Knotenuhr hat einen Vorsprung von ${f.span(s)}: Messwerte werden abgewiesen`,
  "node-refused": ({ why }, f) =>
    `Der Knoten hat seine Einstellungen abgelehnt${why ? `: ${f.reason(why)}` : ""}`,
  "node-silent": ({ s }, f) =>
    s === null ? "Der Knoten schweigt" : `Der Knoten schweigt seit ${f.span(s)}`,
  "node-power-low": ({ volts }, f) =>
    `Die Versorgung des Knotens ist schwach${volts === null ? "" : `: ${f.number(volts)} V`}`,
  "too-little-gas": ({ share }, f) =>
    share === null
      ? "Zu wenig Schutzgas für diese Naht"
      : `Zu wenig Schutzgas: ${f.percent(share)} unter dem Mindestwert dieser Naht`,
  "too-much-gas": ({ share }, f) =>
    share === null
      ? "Zu viel Schutzgas für diese Naht"
      : `Zu viel Schutzgas: ${f.percent(share)} über dem Höchstwert dieser Naht`,
  "still-dialled-up": ({ share }, f) =>
    `Durchfluss noch hochgedreht: Die nächste Naht bekäme ${f.percent(share)} zu viel Gas`,
  "setting-moved": ({ off }, f) =>
    off === null
      ? "Die Einstellung hat sich verstellt"
      : `Die Einstellung hat sich verstellt: ${f.percent(Math.abs(off))} ${off < 0 ? "unter" : "über"} dem Ziel`,
  "line-climbs": (of, f) =>
    `Leitungsdruck steigt bei geschlossenem Brenner${of.paPerMinute === null ? "" : `: ${f.step(of.paPerMinute)} in der Minute`}${of.inS === null ? "" : `, in etwa ${f.span(of.inS)} an der Grenze`}`,
  "may-ice-up": (of, f) =>
    `Der Druckminderer könnte ${of.inS === null ? "bald" : `innerhalb von ${f.span(of.inS)}`} vereisen${of.bodyK === null ? "" : `, sein Gehäuse hat ${f.temperature(of.bodyK)}`}`,
  "on-reserve": bare("Die Reserveseite ist in Gebrauch"),
  "gas-left": ({ s }, f) => `Gas reicht noch für etwa ${f.span(s)} Schweißen`,
  "gas-left-job": ({ s, jobS }, f) =>
    `Gas reicht noch für etwa ${f.span(s)} Schweißen, der Auftrag braucht ${f.span(jobS)}`,
  "gas-ends-soon": bare("Das Gas geht bald zu Ende"),
  "sensor-fault": ({ faults: list }) =>
    list === ""
      ? "Sensor gestört"
      : `Sensor gestört: ${list
          .split(" ")
          .map((one) => one.split("/"))
          .map(
            ([channel = "", fault = ""]) =>
              `${channels[channel] ?? channel}: ${faults[fault] ?? fault}`,
          )
          .join(", ")}`,
  "line-warms": (of, f) =>
    `Leitung erwärmt sich: ${of.pa === null ? "" : `jetzt ${f.pressure(of.pa)}, `}könnte ${of.inS === null ? "heute" : `in etwa ${f.span(of.inS)}`} ${f.pressure(of.reachPa)} erreichen`,
  "line-left-full": ({ pa }, f) =>
    `${pa === null ? "Druck" : f.pressure(pa)} bei geschlossenem Ventil in der Leitung geblieben`,
  "gas-and-process": ({ gas }) => `Gas und Verfahren passen nicht zusammen${gas ? `: ${gas}` : ""}`,
  "is-this-the-gas": ({ gas, like }, f) =>
    `Ist das wirklich ${gas ?? "das richtige Gas"}?${like ? ` Es verhält sich wie ${f.reason(like)}` : ""}`,

  "stop-the-arc": bare("Den Lichtbogen abbrechen."),
  "valve-is-closed": bare("Das Flaschenventil ist geschlossen: öffnen."),
  "check-supply": bare("Flaschenventil, Flascheninhalt und Gasschlauch prüfen."),
  "declare-gasless": bare(
    "Für Stabelektrode, Fugenhobeln oder selbstschützenden Draht einen Auftrag ohne Gas melden.",
  ),
  "grind-out": bare("Ausschleifen, was ohne Gas geschweißt wurde."),
  "look-at-torch": bare("Gasdüse, Gasverteiler, Brennerdichtungen und Schlauch ansehen."),
  "clean-nozzle": bare(
    "Gasdüse und Gasverteiler reinigen. Nach einem geknickten oder gequetschten Schlauch sehen.",
  ),
  "look-for-opening": bare(
    "Nach einer gerissenen Brennerdichtung, einem abgerutschten oder beschädigten Schlauch oder einer fehlenden Gasdüse sehen.",
  ),
  "leak-fluid": bare(
    "Mit Lecksuchmittel oder ammoniakfreier Seifenlösung suchen, nie mit einer Flamme.",
  ),
  "test-at-bench": bare("Das Durchflussgerät am Prüfstand prüfen und das Ergebnis eintragen."),
  "change-empty": bare(
    "Nicht weiterschweißen, das Flaschenventil schließen und die Flasche wechseln. Den Rest darin lassen, damit keine Luft hineinkommt; als leer kennzeichnen und gegen Umfallen sichern. Das Durchflussgerät auf den gewohnten Wert zurückstellen, bevor mit der vollen geschweißt wird.",
  ),
  "full-one-ready": bare("Eine volle Flasche bereitstellen oder bestellen."),
  "less-than-a-day": bare("Weniger als ein üblicher Tagesverbrauch."),
  "close-torch": bare(
    "Das Brennerventil schließen, wenn niemand schweißt. Wird formiert? Dann melden, es wird stattdessen verfolgt.",
  ),
  "purge-still-wanted": bare(
    "Nachfragen, wer hier formiert. Noch gewollt? Dann neu melden. Wenn nicht, das Gas schließen und das Formieren am Bildschirm beenden.",
  ),
  "pools-no-monitor": bare(
    "Argon und CO2 sammeln sich am Boden; Leeward ist kein Sauerstoff- oder CO2-Warngerät.",
  ),
  "do-not-go-in": bare(
    "Nicht zum Nachsehen hineingehen: lüften und die Luft messen. Das Flaschenventil nur schließen, wo die Luft sicher gut ist.",
  ),
  "gas-gathers": ({ helium }) =>
    helium
      ? "Helium sammelt sich unter der Decke; Argon und CO2 sammeln sich am Boden."
      : "Argon und CO2 sammeln sich am Boden.",
  "hydrogen-burns": bare("Das Gas enthält Wasserstoff: keine Flamme, keine Funken."),
  "no-monitor": bare(
    "Leeward ist kein Sauerstoff- oder CO2-Warngerät: Die Zahl nimmt den Raum als gut durchmischt an. Es gelten die örtlichen Vorschriften.",
  ),
  "close-when-idle": bare("Das Flaschenventil schließen, wenn nicht geschweißt wird."),
  "leak-before-seat": bare(
    "Es liegt vor dem Sitz des Druckminderers: Flaschenventil, dessen Stopfbuchse, der Eingangsanschluss.",
  ),
  "leak-after-regulator": bare(
    "Es liegt hinter dem Druckminderer: Ausgang, Durchflussgerät, Schlauch, Brennerventil.",
  ),
  "tighten-nothing": bare("Nichts unter Druck nachziehen."),
  "may-leak-at": ({ at }) =>
    `Das Leck kann an jedem Platz dieser Versorgung sein; am meisten ist die Luft bei ${at} in Gefahr.`,
  "would-be-empty": ({ s }, f) => `Die Flasche wäre in ${f.span(s)} leer.`,
  "may-burst": bare(
    "Zu viel Druck kann einen Schlauch oder ein Manometer bersten lassen: nicht davor stehen und die örtlichen Vorschriften befolgen.",
  ),
  "close-cylinder": bare("Das Flaschenventil schließen."),
  bleed: ({ closed, screw, confined }) =>
    [
      closed === null
        ? ""
        : closed
          ? "Das Flaschenventil schließen, falls es nicht ganz zu ist."
          : "Das Flaschenventil schließen.",
      confined
        ? "Dieser Platz ist als enger Raum eingerichtet: dort darf kein Gas hinein. Bei geschlossenem Flaschenventil Druckminderer und Schlauch ins Freie bringen, oder den Raum lüften und erst die Luft messen. Erst dann den Druck wegnehmen, mit dem Gastest oder der Spültaste, nie mit dem Brennertaster bei eingeschalteter Stromquelle, und zusehen, bis die Leitung auf 0 gefallen ist. Die örtlichen Vorschriften und die Freigabe für enge Räume gehen vor."
        : "Das Gas mit dem Gastest oder der Spültaste ablassen; nie mit dem Brennertaster bei eingeschalteter Stromquelle. Zusehen, bis die Leitung auf 0 gefallen ist.",
      screw
        ? "Danach die Stellschraube herausdrehen, bis sie lose ist, falls der Druckminderer eine hat."
        : "",
      confined ? "" : "In einem engen Raum kein Gas ablassen.",
      "Steigt der Druck bei geschlossenem Ventil wieder, den Druckminderer außer Betrieb nehmen.",
    ]
      .filter(Boolean)
      .join(" "),
  "still-thawing": bare(
    "Der Druckminderer taut vielleicht noch; die Ursache ist deshalb nicht bekannt: ein undichter Sitz oder CO2-Schnee im Gehäuse.",
  ),
  "watch-the-screen": bare(
    "Den Bildschirm im Auge behalten, bis eine Nachricht durchkommt. Internetverbindung und Kontakte in der Einrichtung prüfen, dann eine Probe senden.",
  ),
  "check-node-time": bare(
    "Prüfen, ob der Knoten die Uhrzeit aus dem Netzwerk bekommt, dann neu starten. Bis dahin gilt für seine Messungen die Zeit, zu der sie ankommen.",
  ),
  "set-node-clock": bare(
    "Nach den Manometern richten: Alle Werte dieses Platzes sind alt. Dafür sorgen, dass der Knoten die Uhrzeit des Betriebs bekommt, und ihn neu starten; melden es mehrere Knoten, die Uhr des Gateways stellen.",
  ),
  "correct-setting": bare(
    "Die Einstellung in der Einrichtung berichtigen. Hilft das nicht, die Firmware des Knotens aktualisieren.",
  ),
  "go-by-the-gauges": bare(
    "Nach dem Knoten sehen: leuchtet seine Lampe, hat er Strom und Netzwerk? Bis er sich meldet, sind alle Werte dieses Platzes alt: sich nach den Manometern richten.",
  ),
  "standing-then": ({ conditions }, f) =>
    `Als er verstummte, stand an: ${conditions.split(" ").map(f.condition).join("; ")}.`,
  "change-adapter": bare(
    "Netzteil oder Kabel (oder die Batterie) wechseln, bevor der Knoten verstummt.",
  ),
  "turn-device": (of, f) => {
    const { den } = devices[of.device];
    const start = of.way === "back" ? den : `Gastest drücken und ${den.replace(/^D/, "d")}`;
    return `${start} ${ways[of.way]} ${f.number(of.reading)} ${of.unit} stellen.`;
  },
  "outside-procedure": (of, f) =>
    `Dieser Wert liegt ${of.above ? "über" : "unter"} den ${f.number(of.bound)} ${of.unit} der Schweißanweisung; der wahre Durchfluss liegt darin. Zuerst fragen, wer für die Schweißanweisung verantwortlich ist.`,
  "too-low-for-regulator": bare(
    "Die Flasche wechseln: Sie ist zu leer, als dass der Druckminderer den Durchfluss halten könnte.",
  ),
  "only-to-finish": bare("Nur um diese Naht zu beenden:"),
  "turn-it-back": bare("Zurückstellen, bevor mit der vollen Flasche geschweißt wird."),
  "cannot-be-set": ({ why }, f) =>
    `Die Flasche wechseln oder Druckminderer und Durchflussgerät prüfen. Der richtige Durchfluss lässt sich hier nicht einstellen (${f.reason(why)}).`,
  "raise-the-flow": bare(
    "Den Durchfluss am Durchflussgerät erhöhen. Steigt er nicht, Flaschenventil, Druckminderer und Schlauch prüfen.",
  ),
  "may-look-right": ({ device }) =>
    `${devices[device].der} kann richtig aussehen: Die Anzeige stimmt nur bei Druck und Gas der Skala.`,
  "check-porosity": bare("Was inzwischen geschweißt wurde, auf Poren prüfen."),
  "turn-flow-down": bare("Den Durchfluss am Durchflussgerät verringern."),
  "jet-draws-air": bare("Ein zu starker Strahl zieht Luft mit und verschwendet Gas."),
  "back-to-usual": bare("Das Durchflussgerät auf den gewohnten Wert zurückstellen."),
  "with-gas-test": bare(
    "Vor dem Schweißen mit dem Gastest einstellen. Ein Wert, der an einer leeren Flasche stimmte, gibt an einer vollen viel zu viel Gas.",
  ),
  "was-it-knocked": bare(
    "Das Durchflussgerät prüfen: Wurde es verdreht oder angestoßen? Bei strömendem Gas neu einstellen.",
  ),
  "more-than-heat": bare(
    "Mehr, als Wärme erklärt: ein undichter Sitz oder CO2-Schnee in einem Gehäuse, das kalt war.",
  ),
  "pause-or-less": bare(
    "Pause machen. Wenn die Schweißanweisung es erlaubt, mit weniger Gas schweißen.",
  ),
  "heater-on": bare("Prüfen, ob der Gasvorwärmer eingeschaltet ist."),
  "use-heater": bare(
    "Für solche Durchflüsse einen Gasvorwärmer verwenden oder auf zwei Flaschen verteilen.",
  ),
  "let-it-thaw": bare(
    "Von selbst auftauen lassen: keine Flamme, kein heißes Wasser. Danach die Leitung beobachten: Schnee, der innen geblieben ist, hebt ihren Druck.",
  ),
  "change-empty-side": bare(
    "Die leere Seite jetzt wechseln, solange die Reserve reicht, und Fehlendes bestellen. Zuerst ihr Ventil schließen und den Druck aus der Hochdruckwendel ablassen.",
  ),
  "bring-full": ({ changeS }, f) =>
    changeS === null
      ? "Jetzt eine volle Flasche holen."
      : `Jetzt eine volle Flasche holen: Der Wechsel dauert etwa ${f.span(changeS)}.`,
  "weld-at-most": ({ s }, f) => `Keine Naht beginnen, die länger als ${f.span(s)} Gas braucht.`,
  "no-new-weld": bare("Mit dieser Flasche keine neue Naht beginnen."),
  "plan-change": ({ changeS }, f) =>
    `Einen Flaschenwechsel einplanen, bevor das Gas zu Ende geht: Er dauert etwa ${f.span(changeS)}.`,
  "strap-probe": bare(
    "Den Fühler wieder an die blanke Flaschenwand schnallen und abdecken. Bis dahin sind Inhalt und Durchfluss weniger genau bekannt.",
  ),
  "change-sensor": bare(
    "Stecker und Kabel prüfen. Bevor der Sensor gewechselt wird, das Flaschenventil schließen und die Leitung entlasten. Bis dahin gelten die Manometer; Werte, die darauf beruhen, entfallen.",
  ),
  "find-cylinder-node": bare(
    "Der Knoten an der Flasche meldet sich nicht: seinen Strom und das Netzwerk prüfen. Der gezeigte Inhalt ist der zuletzt gelesene; sich bis dahin nach dem Flaschenmanometer richten.",
  ),
  "heat-alone": (of, f) =>
    `Wärme allein sollte heute ${f.pressure(of.pa)} bringen, unter der Grenze von ${f.pressure(of.limitPa)}.`,
  "gas-unsuited": ({ why }) =>
    `Das Etikett der Flasche lesen: ${unsuited[why]}. Die Flasche wechseln oder die Einrichtung berichtigen, falls sie falsch ist.`,
  "read-the-label": bare(
    "Anhalten und das Etikett der Flasche lesen; es zählt, nicht die Farbe. Die Einrichtung berichtigen oder die Flasche wechseln. Nie Übergangsstücke zwischen Flaschenanschlüssen verwenden.",
  ),

  "bleed-before-leaving": bare("Die Leitung steht noch unter Druck. Vor dem Gehen entlasten."),

  "cylinder-hot": ({ bodyK }, f) =>
    `Flasche zu heiß${bodyK === null ? "" : `: ${f.temperature(bodyK)}`}`,
  "into-the-shade": bare("In den Schatten stellen."),
};

/** The alarms in German. */
export const german: AlarmLanguage = {
  decimal: ",",
  days: (n) => (n === 1 ? "1 Tag" : `${n} Tagen`),
  sentences,
  titles: titlesOf(germanConditions),
  reasons: germanReasons,
};
