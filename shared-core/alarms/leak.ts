import { surelyAbove, z99 } from "./chance.ts";
import type { AlarmCondition, StationSnapshot } from "./condition.ts";
import { says } from "./language/said.ts";
import { dangerAdvice, dangerSaid, worstAirDanger } from "./room-air.ts";
import { activeHigh, activeLow, activeMedium, normal } from "./verdicts.ts";

/** Standing loss that counts, L/min: about 29 L a day, a fifth of 0.1 L/min that must be found. */
const leastLpm = 0.02;
/** From here on it is more than a weep, L/min (common practice, no source). */
const largeLpm = 0.5;

function dangerOf(snapshot: StationSnapshot) {
  const leak = snapshot.leak;
  // At which of the places it comes out nobody knows.
  return leak === null ? null : worstAirDanger(snapshot, leak.meanLpm + 1.645 * leak.sigmaLpm, 0);
}

/** Gas is lost while nobody welds. */
export const leak: AlarmCondition = {
  condition: "leak",
  title: "Gas leaks",
  cause: "A loose connection, a worn seal, a hose that is cracked or a torch valve that weeps.",
  consequence:
    "The cylinder empties unseen; in a small or confined room the gas displaces the air.",
  operatorAction:
    "Close the cylinder valve when not welding; find the leak with leak fluid, never with a flame.",
  timeToRespond: "Within the day; at once where the air of the room is in danger.",
  priority: "low",
  limit:
    "Standing loss above 0.02 L/min with 99 % confidence while nothing flows. Urgent where the well-mixed room could fall to 19.5 % oxygen, or reach 0.5 % or 3 % CO2, or the place is confined; of a supply that several places draw from, whichever of them is worst.",
  deadband: "From above 0.02 L/min down to a mean below it.",
  onDelayS: 300,
  offDelayS: 600,
  delayReason:
    "5 min: the loss is itself a mean over hours, and a change of weather must not ring. Off after 10 min, since the figure moves slowly.",
  suppresses: [],
  alarmClass: "safety",
  latched: false,
  scope: "supply",

  evaluate(snapshot, active) {
    const loss = snapshot.leak;
    if (loss === null) return null;
    const leaks = active
      ? loss.meanLpm > leastLpm
      : surelyAbove(loss.meanLpm, loss.sigmaLpm, leastLpm, z99);
    if (!leaks) return normal;
    if (dangerOf(snapshot) !== null) return activeHigh;
    return loss.meanLpm >= largeLpm ? activeMedium : activeLow;
  },

  describe(snapshot) {
    const loss = snapshot.leak;
    const title = says("gas-leaks", { lpm: loss?.meanLpm ?? null });
    const danger = dangerOf(snapshot);
    if (danger !== null) {
      const { at } = danger;
      return {
        title: [title, dangerSaid(danger)],
        advice: [
          ...dangerAdvice(snapshot),
          ...(at === undefined ? [] : [says("may-leak-at", { at })]),
        ],
      };
    }
    const content = snapshot.content;
    const emptyS =
      loss !== null && content !== null && loss.meanLpm > 0
        ? (content.meanL / loss.meanLpm) * 60
        : null;
    return {
      title: [title],
      advice: [
        says("close-when-idle"),
        ...(loss?.side === "cylinder" ? [says("leak-before-seat")] : []),
        ...(loss?.side === "line" ? [says("leak-after-regulator")] : []),
        says("leak-fluid"),
        says("tighten-nothing"),
        ...(emptyS === null ? [] : [says("would-be-empty", { s: emptyS })]),
        says("pools-no-monitor"),
      ],
    };
  },
};
