/**
 * Keeps a node reachable: where it does not know its place, or cannot join its network, or finds no
 * gateway for long, it opens an access point of its own with a page for a phone, and goes on trying
 * meanwhile. The same can be told from the serial console.
 */
import type { Reach, ReachPorts, SetUp } from "../ports.ts";
import { placeNewFile } from "./place-names.ts";
import type { ReachState } from "./reach-state.ts";

const networkPatienceS = 300;
const newNetworkPatienceS = 60;
const gatewayPatienceS = 900;
const openForS = 600;
const restS = 1800;
const personStaysS = 180;
const holdButtonS = 8;

/** The end of the secret keeps strangers out of a node that is in use; WPA2 wants eight symbols. */
function accessPassword(secret: string): string {
  return secret.length < 8 ? `leeward-${secret}` : string.sub(secret, -8);
}

function openAccess(state: ReachState): void {
  const { ports } = state;
  ports.openAccess(
    `leeward-${string.sub(ports.hardwareAddress, -4)}`,
    ports.enrolled ? accessPassword(ports.secret) : "",
  );
  state.openS = state.uptimeS;
}

/** The page and the console, loaded while somebody uses them. */
function setUpOf(state: ReachState): SetUp {
  state.setUp ??= state.ports.loadSetUp();
  state.personS = state.uptimeS;
  return state.setUp;
}

function closeAccess(state: ReachState): void {
  state.ports.closeAccess();
  state.openS = -1;
  state.restUntilS = state.uptimeS + restS;
  state.asked = false;
}

/** True where the node cannot be reached the usual way, or a person asks for its set-up. */
function isNeeded(state: ReachState): boolean {
  if (!state.ports.complete || state.asked) return true;
  const patience = state.fresh ? newNetworkPatienceS : networkPatienceS;
  const { uptimeS } = state;
  return uptimeS - state.networkS >= patience || uptimeS - state.gatewayS >= gatewayPatienceS;
}

function watchButton(state: ReachState, pressed: boolean): void {
  if (!pressed) state.pressedS = state.uptimeS;
  else if (state.uptimeS - state.pressedS >= holdButtonS && !state.asked) {
    state.asked = true;
    state.restUntilS = 0;
  }
}

function watchAccess(state: ReachState): void {
  const { uptimeS, ports } = state;
  const needed = isNeeded(state);
  if (state.openS < 0) {
    if (needed && uptimeS >= state.restUntilS) openAccess(state);
    return;
  }
  if (!ports.complete || uptimeS - state.personS < personStaysS) return;
  const tired = uptimeS - state.openS >= openForS;
  if (!needed || tired) closeAccess(state);
}

function tick(
  state: ReachState,
  uptimeS: number,
  networkUp: boolean,
  gatewayUp: boolean,
  pressed: boolean,
): void {
  const { ports } = state;
  state.uptimeS = uptimeS;
  state.networkUp = networkUp;
  if (networkUp) state.networkS = uptimeS;
  if (gatewayUp) state.gatewayS = uptimeS;
  if (networkUp && state.fresh) {
    state.fresh = false;
    ports.removeFile(placeNewFile);
  }
  watchButton(state, pressed);
  watchAccess(state);
  if (state.openS < 0 && uptimeS - state.personS >= personStaysS) state.setUp = undefined;
  if (!ports.complete) {
    // Nothing else speaks through the lamp: a second on, a second off.
    state.step = (state.step + 1) % 8;
    ports.lamp(state.step < 4);
  }
  if (state.restartAtS > 0 && uptimeS >= state.restartAtS) {
    state.restartAtS = 0;
    ports.restart();
  }
}

export function createReach(ports: ReachPorts): Reach {
  const fresh = ports.complete && ports.readFile(placeNewFile) !== undefined;
  const state: ReachState = {
    ports,
    setUp: undefined,
    told: undefined,
    fresh,
    uptimeS: 0,
    networkUp: false,
    networkS: 0,
    gatewayS: 0,
    personS: -1000,
    openS: -1,
    restUntilS: 0,
    asked: false,
    pressedS: 0,
    restartAtS: 0,
    step: 0,
  };
  return {
    tick: (uptimeS, networkUp, gatewayUp, pressed) =>
      tick(state, uptimeS, networkUp, gatewayUp, pressed),
    converse: () => setUpOf(state).converse(state),
    command: (line) => setUpOf(state).command(state, line),
  };
}
