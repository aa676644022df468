/**
 * Keeps a node reachable: where it does not know its place, or cannot join its network, or finds no
 * gateway for long, it opens an access point of its own with a page for a phone, and goes on trying
 * meanwhile. The same can be told from the serial console.
 */
import type { Reach, ReachPorts, WebConversation } from "../ports.ts";
import { consoleCommand } from "./console.ts";
import { formPage, type PageFaults, savedPage } from "./page.ts";
import { placeFile, placeNewFile, readPlace } from "./place.ts";
import { type ReachState, savePlace, stateOf } from "./reach-state.ts";
import { answerHead, formField, hearPiece, type Request, type Talk } from "./talk.ts";
import { takeCode, takeGateway, takeNetwork, takePassword } from "./telling.ts";

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

function fault(): PageFaults {
  return { network: "", password: "", gateway: "", code: "" };
}

function takeForm(state: ReachState, body: string): string[] {
  const { ports } = state;
  const place = readPlace(ports.readFile(placeFile));
  const faults = fault();
  const network = formField(body, "network");
  const gateway = formField(body, "gateway");
  const code = formField(body, "code");
  faults.network = takeNetwork(place, network);
  faults.password = takePassword(place, formField(body, "password"));
  faults.gateway = takeGateway(place, gateway);
  if (code !== "" || !ports.enrolled) {
    faults.code = code === "" ? "is missing" : takeCode(place, code);
  }
  const sound =
    faults.network === "" && faults.password === "" && faults.gateway === "" && faults.code === "";
  const why = sound ? savePlace(state, place) : "Nothing was saved yet.";
  if (why === "") return savedPage(network);
  const said = sound ? `It was not saved: ${why}.` : why;
  return formPage(ports.name, said, ports.enrolled, { network, gateway, code }, faults);
}

function respond(state: ReachState, request: Request): string[] {
  const { ports } = state;
  let status = "200 OK";
  let more = "";
  let pieces: string[] = [];
  if (request.method === "POST") {
    pieces = takeForm(state, request.body);
  } else if (request.method !== "GET" && request.method !== "HEAD") {
    status = "405 Method Not Allowed";
    more = "Allow: GET, POST\r\n";
  } else if (request.path === "/") {
    const gateway = ports.host === "" ? "" : string.format("%s:%d", ports.host, ports.port);
    const fields = { network: ports.network, gateway, code: "" };
    pieces = formPage(ports.name, stateOf(state), ports.enrolled, fields, fault());
  } else {
    // Phones ask for pages of their makers to find out whether there is a way to the internet.
    status = "302 Found";
    more = "Location: http://192.168.4.1/\r\n";
  }
  const answer = [answerHead(status, pieces, more)];
  if (request.method !== "HEAD") for (const piece of pieces) answer.push(piece);
  return answer;
}

function converse(state: ReachState): WebConversation {
  const talk: Talk = { text: "", answered: false };
  return {
    take: (data) => {
      const heard = hearPiece(talk, data);
      if (heard === undefined) return undefined;
      talk.answered = true;
      talk.text = "";
      state.personS = state.uptimeS;
      if (type(heard) === "string") return [answerHead(heard as string, [], "")];
      return respond(state, heard as Request);
    },
  };
}

export function createReach(ports: ReachPorts): Reach {
  const fresh = ports.complete && ports.readFile(placeNewFile) !== undefined;
  const state: ReachState = {
    ports,
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
    converse: () => converse(state),
    command: (line) => {
      state.personS = state.uptimeS;
      return consoleCommand(state, line);
    },
  };
}
