import { type MessageResult, refuse } from "./dead-letter-reasons.ts";
import type { SentPack } from "./sample-pack.ts";

/** How far a node's clock may run ahead before its times count as impossible, s. */
export const aheadLimitS = 300;
/** Oldest sample that is taken, s before receipt. */
export const ageLimitS = 400 * 86_400;

/** Newest absolute time of a pack, Unix seconds; null where all are relative. */
export function newestAbsoluteTime(pack: SentPack): number | null {
  let newest: number | null = null;
  for (const sample of pack.samples) {
    if (!sample.relative && (newest === null || sample.time > newest)) newest = sample.time;
  }
  return newest;
}

/** Refuses times that lie in the future of the receipt, or absurdly far back. Error: `impossible-time`. */
export function checkPackTimes(pack: SentPack, receivedS: number): MessageResult<SentPack> {
  for (const sample of pack.samples) {
    const ageS = sample.relative ? -sample.time : receivedS - sample.time;
    if (!sample.relative && ageS < -aheadLimitS) {
      const aheadS = Math.round(-ageS);
      const why = refuse("impossible-time", sample.channel, `lies ${aheadS} s in the future`);
      return { ok: false, fault: { ...why.fault, aheadS } };
    }
    if (ageS > ageLimitS) {
      return refuse("impossible-time", sample.channel, `is ${Math.round(ageS / 86_400)} days old`);
    }
  }
  return { ok: true, value: pack };
}
