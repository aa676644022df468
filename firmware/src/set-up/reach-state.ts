/** How a node's reach stands. */
import type { ReachPorts, SetUp } from "../ports.ts";
import type { Place } from "./place.ts";

export interface ReachState {
  ports: ReachPorts;
  setUp: SetUp | undefined;
  /** What the console was told and has not saved yet. */
  told: Place | undefined;
  /** A place that has not been joined yet since it was told. */
  fresh: boolean;
  uptimeS: number;
  networkUp: boolean;
  /** Last time that network and gateway were there, and that a person did something. */
  networkS: number;
  gatewayS: number;
  personS: number;
  /** Since when the access point is open; -1: closed. Closed: not again before `restUntilS`. */
  openS: number;
  restUntilS: number;
  asked: boolean;
  pressedS: number;
  restartAtS: number;
  step: number;
}
