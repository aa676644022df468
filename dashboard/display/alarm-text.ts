import type { SaidAlarm } from "@leeward/shared-core/alarms/language/said.ts";
import { reasonIn, type SayUnits, sayAlarm } from "@leeward/shared-core/alarms/language/say.ts";
import { outsideOf } from "@leeward/shared-core/alarms/procedure-side.ts";
import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import type { Estimate } from "@leeward/shared-core/estimation/estimate.ts";
import { alarmLanguage } from "../language/alarm-language.ts";
import { words } from "../language/words.ts";
import { stopped } from "./advice.ts";
import { flowsInReason } from "./flows-in-text.ts";
import { decimalSign } from "./numbers.ts";
import { flowInUnit, type UnitChoice } from "./units.ts";

/** An alarm as an estimate or the alarm list carries it. */
interface Told {
  condition: string;
  title?: string | undefined;
  advice?: string | undefined;
  said?: SaidAlarm | null | undefined;
}

function sayUnits(units: UnitChoice): SayUnits {
  return {
    pressure: units.pressure,
    temperature: units.temperature,
    flow: units.flow,
    flowPerLpm: flowInUnit(1, units),
    decimal: decimalSign(),
  };
}

/** Short name of a condition in the language in use, without its full stop. */
export function conditionTitle(condition: string): string {
  const known: Readonly<Record<string, string>> = words.conditions;
  return (known[condition] ?? condition).replace(/[.]$/, "");
}

/**
 * Title and advice in the reader's language and units. Where only texts came, or sentences that
 * this version does not know, the texts count.
 */
export function alarmText(alarm: Told, units: UnitChoice): { title: string; advice: string } {
  const language = { ...plain(), titles: titles() };
  const text = alarm.said ? sayAlarm(alarm.said, language, sayUnits(units)) : null;
  return {
    title: stopped(text?.title ?? alarm.title ?? conditionTitle(alarm.condition)),
    advice: flowsInReason(text?.advice ?? alarm.advice ?? "", units),
  };
}

/**
 * An alarm whose advice names what to dial, with the figure of this moment: it was said when the alarm
 * was, and one page must not name two settings. It stays as it was said where the figure of this moment
 * lies on another side of the procedure's limits: what the advice says of them would not be true of it.
 */
export function dialledNow<A extends Told>(
  alarm: A,
  dialTo: Estimate["dialTo"] | undefined,
  station: StationDocument,
): A {
  const { said } = alarm;
  if (!said || !dialTo || dialTo.reading === null) return alarm;
  const { reading, unit } = dialTo;
  if (unit === undefined) return alarm;
  const above = outsideOf({ station }, reading)?.above ?? null;
  if (saidAbove(said.advice) !== above) return alarm;
  const advice = said.advice.map((one) =>
    one.say === "turn-device" && one.of?.unit === unit
      ? { ...one, of: { ...one.of, reading } }
      : one,
  );
  return { ...alarm, said: { ...said, advice } };
}

/** Whether the advice says that its reading lies above the procedure's limits, or below; null: inside. */
function saidAbove(advice: SaidAlarm["advice"]): boolean | null {
  const outside = advice.find(({ say }) => say === "outside-procedure");
  return outside ? outside.of?.above === true : null;
}

/** The language as a plain object: a copy of the live one would copy the English underneath. */
function plain() {
  const { decimal, days, sentences, reasons } = alarmLanguage;
  return { decimal, days, sentences, reasons };
}

function titles(): Readonly<Record<string, string>> {
  return Object.fromEntries(Object.keys(words.conditions).map((id) => [id, conditionTitle(id)]));
}

/** A reason that came with an estimate, in the language and units in use; English where it has no words for it. */
export function reasonText(why: string, units: UnitChoice): string {
  const { reasons } = alarmLanguage;
  return flowsInReason(reasonIn(why, { reasons, decimal: decimalSign() }), units);
}
