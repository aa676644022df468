/**
 * Since when the gateway hears its nodes. A node that is away says so by not being heard, but not to a
 * gateway that was not running, or whose machine slept: after that each node has time to come back before
 * its silence counts.
 */

/** Three times the pace of an idle node's packs; a node tries to connect again within a minute, s. */
const timeToComeBackS = 180;
/** Time that passed between two ticks, beyond what lies between them by plan: the machine slept, s. */
const sleptS = 60;

export class Listening {
  readonly #tickS: number;
  #sinceS: number | null = null;
  #lastS = 0;

  /** @param tickS time between two ticks by plan, s */
  constructor(tickS: number) {
    this.#tickS = tickS;
  }

  /** Time has come to `nowS`; to be called at each tick, and once where listening begins. */
  tick(nowS: number): void {
    if (this.#sinceS === null || nowS - this.#lastS > this.#tickS + sleptS) this.#sinceS = nowS;
    this.#lastS = nowS;
  }

  /** Whether every node that is there has had time to be heard by `nowS`. */
  longEnough(nowS: number): boolean {
    return this.#sinceS !== null && nowS - this.#sinceS >= timeToComeBackS;
  }
}
