/** How a node's reach stands, and writing down where it is. */
import { writeSafely } from "../boot.ts";
import type { ReachPorts } from "../ports.ts";
import { type Place, placeFile, placeNewFile, placeText } from "./place.ts";
import { lackOf } from "./telling.ts";

export interface ReachState {
  ports: ReachPorts;
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

/** One sentence on how things stand. */
export function stateOf(state: ReachState): string {
  const { ports } = state;
  if (!ports.complete) return `${ports.why} Tell it where it is.`;
  if (state.networkUp) {
    return state.uptimeS - state.gatewayS < 60
      ? "It is in its network and hears its gateway."
      : `It is in its network, but the gateway does not answer at ${ports.host}: is the address right, is the node enrolled there?`;
  }
  return `It cannot join ${ports.network}: is the name right, and the password? Is it a 2.4 GHz network within reach?`;
}

/** Writes a place down and restarts with it; "" or why not. */
export function savePlace(state: ReachState, told: Place): string {
  const { ports } = state;
  const lack = lackOf(told, ports.enrolled);
  if (lack !== "") return `${lack} is missing`;
  writeSafely(ports, placeNewFile, "1");
  if (!writeSafely(ports, placeFile, placeText(told))) return "the node's flash does not take it";
  state.restartAtS = state.uptimeS + 3;
  return "";
}
