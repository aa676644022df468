import { type Phrases, phraseIn } from "../../language/phrases.ts";
import {
  CFH_M3_PER_S,
  CUBIC_FOOT_M3,
  LITRE_PER_MINUTE_M3_PER_S,
  PSI_PA,
} from "../../units/factors.ts";
import { referenceConditions } from "../../units/reference-conditions.ts";
import type { EnglishSentences } from "./english.ts";
import type { Said, SaidAlarm } from "./said.ts";

/** Units of a reader. Readings of a device keep the device's own unit, whatever stands here. */
export interface SayUnits {
  pressure: "bar" | "psi" | "kPa";
  temperature: "C" | "F";
  flow: "L/min" | "CFH";
  /** What 1 L/min (metric20) is in the flow unit at the reader's reference conditions. */
  flowPerLpm: number;
  /** Decimal sign of the reader's locale; the language's own where left out. */
  decimal?: string;
}

/** Values as text, in one language and the reader's units. */
export interface Formats {
  /** Gauge pressure: `8.2 bar`. */
  pressure(pa: number): string;
  /** A small step of pressure, which needs more figures than a gauge shows: `12 mbar`. */
  step(pa: number): string;
  temperature(kelvin: number): string;
  /** True flow from metric20 L/min: `7.9 L/min`, `17 CFH`. */
  flow(lpm: number): string;
  /** Volume of gas from metric20 litres: `432 L`, `15 ft³`. */
  volume(litres: number): string;
  span(seconds: number): string;
  percent(share: number): string;
  /** Two figures below 10, whole numbers above 100: `0.35`, `8`, `12.6`, `119`. */
  number(value: number): string;
  /** A reason that the core gives in English, in this language. */
  reason(english: string): string;
  /** Short title of a condition. */
  condition(id: string): string;
}

/** Every sentence of a language; its keys are those of English. */
export type Sentences = {
  [K in keyof EnglishSentences]: (of: Parameters<EnglishSentences[K]>[0], f: Formats) => string;
};

/** What a reader is told of a condition: why it exists, what to do, how soon. */
export interface ConditionWords {
  title: string;
  cause: string;
  consequence: string;
  operatorAction: string;
  timeToRespond: string;
  limit: string;
  deadband: string;
  delayReason: string;
}

/** A language of the alarms. */
export interface AlarmLanguage {
  decimal: "." | ",";
  days: (n: number) => string;
  sentences: Sentences;
  /** Short titles of the conditions by id. */
  titles: Readonly<Record<string, string>>;
  /** Reasons by their English text; an unknown one stays English. */
  reasons: Readonly<Record<string, string>>;
}

/** Short titles of conditions from their words. */
export function titlesOf(
  conditions: Readonly<Record<string, ConditionWords>>,
): Readonly<Record<string, string>> {
  return Object.fromEntries(Object.entries(conditions).map(([id, { title }]) => [id, title]));
}

/** CFH at `us` conditions for 1 L/min at `metric20` (ideal gas; NIST SP 811). */
const usCfhPerLpm =
  (LITRE_PER_MINUTE_M3_PER_S / CFH_M3_PER_S) *
  (referenceConditions.us.temperatureK / referenceConditions.metric20.temperatureK) *
  (referenceConditions.metric20.pressurePa / referenceConditions.us.pressurePa);

export const metricSayUnits: SayUnits = {
  pressure: "bar",
  temperature: "C",
  flow: "L/min",
  flowPerLpm: 1,
};

export const usSayUnits: SayUnits = {
  pressure: "psi",
  temperature: "F",
  flow: "CFH",
  flowPerLpm: usCfhPerLpm,
};

/** `1 h 50`, as screens tell a time, to 5 min and from 5 h on to 10 min; whole hours alone: `3 h`. */
function hoursAndMinutes(seconds: number): string {
  const step = seconds < 18_000 ? 300 : 600;
  const minutes = (Math.round(seconds / step) * step) / 60;
  const over = minutes % 60;
  const hours = `${Math.floor(minutes / 60)} h`;
  return over === 0 ? hours : `${hours} ${String(over).padStart(2, "0")}`;
}

/** Values as text in a language and units. */
export function formatsOf(language: AlarmLanguage, units: SayUnits): Formats {
  const number = (value: number) => {
    const size = Math.abs(value);
    const text = String(Number(value.toFixed(size >= 100 ? 0 : size >= 1 ? 1 : 2)));
    return text.replace(".", units.decimal ?? language.decimal);
  };
  const pressure = (pa: number) => {
    const perUnit = units.pressure === "psi" ? PSI_PA : units.pressure === "kPa" ? 1000 : 1e5;
    return `${number(pa / perUnit)} ${units.pressure}`;
  };
  return {
    pressure,
    step: (pa) => {
      const text = pressure(pa);
      return text.startsWith("0 ") ? `${number(pa / 100)} mbar` : text;
    },
    temperature: (kelvin) => {
      const celsius = kelvin - 273.15;
      return units.temperature === "F"
        ? `${Math.round(celsius * 1.8 + 32)} °F`
        : `${Math.round(celsius)} °C`;
    },
    flow: (lpm) => `${number(lpm * units.flowPerLpm)} ${units.flow}`,
    volume: (litres) =>
      units.flow === "CFH"
        ? `${number((litres * units.flowPerLpm * CFH_M3_PER_S) / LITRE_PER_MINUTE_M3_PER_S / (CUBIC_FOOT_M3 * 1000))} ft³`
        : `${number(litres * units.flowPerLpm)} L`,
    span: (seconds) => {
      if (seconds < 90) return `${Math.max(0, Math.round(seconds))} s`;
      if (seconds < 5970) return `${Math.round(seconds / 60)} min`;
      if (seconds < 129600) return hoursAndMinutes(seconds);
      return language.days(Math.round(seconds / 86400));
    },
    percent: (share) => `${Math.round(share * 100)} %`,
    number,
    reason: (english) => reasonIn(english, language),
    condition: (id) => language.titles[id] ?? id,
  };
}

const books = new WeakMap<AlarmLanguage["reasons"], { english: Phrases; own: Phrases }>();

/** A table of reasons as a book of phrases: the values `{}` get names. */
function bookOf(reasons: AlarmLanguage["reasons"]): { english: Phrases; own: Phrases } {
  const known = books.get(reasons);
  if (known) return known;
  const named = (text: string) => {
    let count = 0;
    return text.replaceAll("{}", () => `{value${++count}}`);
  };
  const rows = Object.entries(reasons);
  const book = {
    english: Object.fromEntries(rows.map(([english], k) => [`reason-${k}`, named(english)])),
    own: Object.fromEntries(rows.map(([, own], k) => [`reason-${k}`, named(own)])),
  };
  books.set(reasons, book);
  return book;
}

/**
 * A reason of the core (a `why` of an estimate) in a language; one that its table does not know
 * stays English.
 */
export function reasonIn(
  english: string,
  language: Pick<AlarmLanguage, "reasons"> & { decimal?: string },
): string {
  const { reasons, decimal = "." } = language;
  return phraseIn(english, { ...bookOf(reasons), decimal });
}

type Loose = (of: Record<string, unknown>, f: Formats) => string;

/** One sentence in words; null for a key that this version does not know. */
export function say(said: Said, language: AlarmLanguage, units: SayUnits): string | null {
  const sentences: Readonly<Record<string, unknown>> = language.sentences;
  if (!Object.hasOwn(sentences, said.say)) return null;
  return (sentences[said.say] as Loose)(said.of ?? {}, formatsOf(language, units));
}

/** The first sentence of an advice, which says the first thing to do. */
export function firstSentence(advice: string): string {
  return advice.split(/(?<=[.!?]) /)[0] ?? "";
}

/** Title and advice in words; null where a key is not known: then the text that came along counts. */
export function sayAlarm(
  said: SaidAlarm,
  language: AlarmLanguage,
  units: SayUnits,
): { title: string; advice: string; firstStep: string } | null {
  const title = said.title.map((one) => say(one, language, units));
  const advice = said.advice.map((one) => say(one, language, units));
  if (title.includes(null) || advice.includes(null)) return null;
  const text = advice.join(" ");
  return { title: title.join("; "), advice: text, firstStep: firstSentence(text) };
}
