import { surelyAbove, z90, z95 } from "./chance.ts";
import type { AlarmCondition, StationSnapshot } from "./condition.ts";
import { dialAdvice } from "./dial-advice.ts";
import { says } from "./language/said.ts";
import { activeLow, activeMedium, hold, normal } from "./verdicts.ts";
import { flowSpokenOf } from "./wording.ts";

/** Share by which the flow must miss the target, and the way back. */
const offShare = 0.15;
const clearShare = 0.1;
/** A turn smaller than this is not spoken of. */
const leastTurn = 0.08;
/** A turn is news for this long, s. */
const newsS = 1800;
/** A turn up counts as the reason for so long, s. */
const dialledUpS = 7 * 86_400;

type Kind = "way-back" | "turned";

/** Expected flow clearly above what the weld wants after a cylinder change or a recovery. */
function wayBack(snapshot: StationSnapshot, active: boolean): boolean {
  const target = snapshot.demand?.targetLpm ?? null;
  const next = snapshot.expectedFlow;
  if (target === null || next === null || snapshot.gasOnSince !== null) return false;
  // Only where somebody dialled up: otherwise over-flow speaks for itself.
  const { lastReDial, t } = snapshot;
  const dialledUp =
    lastReDial !== null && lastReDial.ratio > 1 + leastTurn && t - lastReDial.t < dialledUpS;
  if (!dialledUp) return false;
  return active
    ? next.meanLpm > target * (1 + clearShare)
    : surelyAbove(next.meanLpm, next.sigmaLpm, target * (1 + offShare), z90);
}

/** The device was turned away from the target, or behaves as if it were. */
function turned(snapshot: StationSnapshot, active: boolean): boolean {
  const target = snapshot.demand?.targetLpm ?? null;
  const turn = snapshot.lastReDial;
  const now = snapshot.flow;
  if (target === null || turn === null || now === null || snapshot.gasOnSince === null)
    return false;
  if (snapshot.t - turn.t > newsS || Math.abs(Math.log(turn.ratio)) < leastTurn) return false;
  const miss = Math.abs(now.meanLpm / target - 1);
  const before = Math.abs(now.meanLpm / turn.ratio / target - 1);
  if (miss <= before) return false;
  return active ? miss > clearShare : miss - (z95 * now.sigmaLpm) / target > offShare;
}

function kindOf(snapshot: StationSnapshot, active: boolean): Kind | null {
  if (snapshot.purge !== null || snapshot.job?.gasless) return null;
  if (wayBack(snapshot, active)) return "way-back";
  return turned(snapshot, active) ? "turned" : null;
}

/** The flow, or the one to be expected, is near the target again, or nothing is asked of it. */
function isRight(snapshot: StationSnapshot): boolean {
  if (snapshot.purge !== null || snapshot.job?.gasless) return true;
  const target = snapshot.demand?.targetLpm ?? null;
  const seen = snapshot.gasOnSince === null ? snapshot.expectedFlow : snapshot.flow;
  return target !== null && seen !== null && Math.abs(seen.meanLpm / target - 1) <= clearShare;
}

/** The flow device no longer stands where the weld wants it. */
export const readingShift: AlarmCondition = {
  condition: "reading-shift",
  title: "Flow setting moved",
  cause:
    "The flow device was turned or knocked, its behaviour changed, or it was dialled up on a nearly empty cylinder and not turned back.",
  consequence: "The next weld gets too much or too little gas; a full cylinder floods it.",
  operatorAction: "Set the flow device to the reading given before the next weld.",
  timeToRespond: "Before the next weld.",
  priority: "low",
  limit:
    "After a turn: true flow more than 15 % off the target, further than before, with 95 % confidence. After a cylinder change or a recovered line, where it was turned up before: the next gas-on would give 15 % more than the target with 90 % confidence.",
  deadband: "From 15 % off back to 10 %.",
  onDelayS: 30,
  offDelayS: 5,
  delayReason:
    "30 s: a hand at the valve passes through wrong readings on its way to the right one, and what a swap or a turn has changed is uncertain at first. Off after 5 s at the right one; kept for 4 h while it is neither right nor news, so that welds in a row ring once.",
  suppresses: [],
  alarmClass: "weld",
  latched: false,
  scope: "station",
  holdS: 4 * 3600,

  evaluate(snapshot, active) {
    if (snapshot.demand === null || snapshot.demand.targetLpm === null) return null;
    const kind = kindOf(snapshot, active);
    // Gas on or off asks another question of the same setting: what stands is kept until it is right.
    if (kind === null) return active && !isRight(snapshot) ? hold : normal;
    return kind === "way-back" ? activeMedium : activeLow;
  },

  describe(snapshot) {
    const target = snapshot.demand?.targetLpm ?? null;
    const kind = kindOf(snapshot, true);
    if (kind === "way-back" && target !== null && snapshot.expectedFlow !== null) {
      const share = snapshot.expectedFlow.meanLpm / target - 1;
      return {
        title: [says("still-dialled-up", { share })],
        advice: [
          ...(dialAdvice(snapshot, "back") ?? [says("back-to-usual")]),
          says("with-gas-test"),
        ],
      };
    }
    // With the torch shut nothing flows: then the next gas-on is spoken of.
    const now = flowSpokenOf(snapshot)?.meanLpm ?? null;
    const miss = target !== null && now !== null ? now / target - 1 : null;
    const off = miss !== null && Math.abs(miss) >= 0.01 ? miss : null;
    return {
      title: [says("setting-moved", { off })],
      advice: dialAdvice(snapshot, off !== null && off < 0 ? "up" : "down") ?? [
        says("was-it-knocked"),
      ],
    };
  },
};
