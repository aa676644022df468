import type { ActiveAlarm } from "../estimation/estimate.ts";
import { priorities } from "./delays.ts";
import type { SuppressedAlarm } from "./evaluator.ts";
import { alarmLanguages } from "./language/index.ts";
import type { Language } from "./language/languages.ts";
import { type SaidAlarm, says } from "./language/said.ts";
import { type SayUnits, sayAlarm } from "./language/say.ts";
import { nodeClockWrong } from "./node-clock-wrong.ts";
import { nodeSilent } from "./node-silent.ts";

/** A node whose packs are refused because their times lie in the future. */
export interface RefusedClock {
  /** How far its clock runs ahead, s. */
  aheadS: number;
  /** First refusal of this spell, Unix s. */
  since: number;
}

/**
 * The alarms of a station's latest line where packs of its node are refused for their times: the
 * gateway alone knows that, for nothing of the node reaches the estimator. The wrong clock stands
 * in the place of the silence that it causes and takes over its priority and what it hides; what
 * the node's power and network have to do with it would send people the wrong way.
 * @param units units and language of the texts
 * @returns what is shown, and what is explained by the clock
 */
export function withRefusedClock(
  alarms: readonly ActiveAlarm[],
  refused: RefusedClock,
  { units, language }: { units: SayUnits; language: Language },
): { alarms: ActiveAlarm[]; suppressed: SuppressedAlarm[] } {
  const by = nodeClockWrong.condition;
  const silence = alarms.find(({ condition }) => condition === nodeSilent.condition);
  const rank = Math.max(
    priorities.indexOf("medium"),
    silence ? priorities.indexOf(silence.priority) : 0,
  );
  const said: SaidAlarm = {
    title: [says("node-clock-ahead", { s: refused.aheadS })],
    advice: [
      says("set-node-clock"),
      ...(silence?.said?.advice.filter(({ say }) => say === "standing-then") ?? []),
    ],
  };
  const text = sayAlarm(said, alarmLanguages[language], units);
  const clock: ActiveAlarm = {
    condition: by,
    priority: priorities[rank]!,
    since: refused.since,
    title: text?.title ?? nodeClockWrong.title,
    advice: text?.advice ?? nodeClockWrong.operatorAction,
    said,
  };
  const others = alarms.filter((alarm) => alarm !== silence && alarm.condition !== by);
  const explained = silence ? [nodeSilent.condition, ...nodeSilent.suppresses] : [];
  const suppressed = explained
    .filter((condition) => condition !== by)
    .map((condition) => ({ condition, by, since: silence?.since ?? refused.since }));
  return { alarms: [clock, ...others], suppressed };
}
