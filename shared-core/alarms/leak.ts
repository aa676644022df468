import { surelyAbove, z99 } from "./chance.ts";
import type { AlarmCondition, StationSnapshot } from "./condition.ts";
import { airDanger, dangerAdvice, dangerText } from "./room-air.ts";
import { activeHigh, activeLow, activeMedium, normal } from "./verdicts.ts";
import { flowText, rounded, spanText } from "./wording.ts";

/** Standing loss that counts, L/min: about 29 L a day, a fifth of 0.1 L/min that must be found. */
const leastLpm = 0.02;
/** From here on it is more than a weep, L/min (common practice, no source). */
const largeLpm = 0.5;

function dangerOf(snapshot: StationSnapshot) {
  const leak = snapshot.leak;
  return leak === null ? null : airDanger(snapshot, leak.meanLpm + 1.645 * leak.sigmaLpm, 0);
}

const sideAdvice: Record<string, string> = {
  cylinder: "It is before the regulator's seat: cylinder valve, its packing, the inlet connection.",
  line: "It is after the regulator: outlet, flow device, hose, torch valve.",
};

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
    "Standing loss above 0.02 L/min with 99 % confidence while nothing flows. Urgent where the well-mixed room could fall to 19.5 % oxygen, or reach 0.5 % or 3 % CO2, or the place is confined.",
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
    const rate =
      loss === null
        ? ""
        : `: ${flowText(loss.meanLpm, snapshot)}, ${rounded(loss.meanLpm * 1440)} L a day`;
    const danger = dangerOf(snapshot);
    if (danger !== null) {
      return {
        title: `Gas leaks${rate}; ${dangerText(danger)}`,
        advice: dangerAdvice(snapshot),
      };
    }
    const content = snapshot.content;
    const empty =
      loss !== null && content !== null && loss.meanLpm > 0
        ? ` The cylinder would be empty in ${spanText((content.meanL / loss.meanLpm) * 60)}.`
        : "";
    const side = loss?.side ? (sideAdvice[loss.side] ?? "") : "";
    return {
      title: `Gas leaks${rate}`,
      advice:
        `Close the cylinder valve when you do not weld. ${side} Find it with leak fluid or ammonia-free soap solution, never with a flame. Tighten nothing under pressure.${empty} Argon and CO2 pool low; Leeward is no oxygen or CO2 monitor.`.replace(
          "  ",
          " ",
        ),
    };
  },
};
