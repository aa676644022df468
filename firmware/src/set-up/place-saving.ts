/** Says how things stand, and writes down where the node is. */
import { writeSafely } from "../boot.ts";
import { type Place, placeText } from "./place.ts";
import { placeFile, placeNewFile } from "./place-names.ts";
import type { ReachState } from "./reach-state.ts";
import { lackOf } from "./telling.ts";

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
