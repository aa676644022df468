/** A node's set-up from the serial console: one command a line, each answered. */
import { readPlace } from "./place.ts";
import { placeFile, placeNewFile } from "./place-names.ts";
import { savePlace, stateOf } from "./place-saving.ts";
import type { ReachState } from "./reach-state.ts";
import { takeCode, takeGateway, takeNetwork, takePassword } from "./telling.ts";

const help =
  "commands: show | network NAME | password TEXT | gateway ADDRESS | code CODE | save | set-up | forget";

function show(state: ReachState): string {
  const { ports, told: place } = state;
  const told =
    place !== undefined
      ? `\nnot saved yet: network ${place.network}, password ${place.password === "" ? "none" : "told"}, gateway ${place.host}, code ${place.secret === "" ? "none" : "told"}`
      : "";
  const gateway = ports.host === "" ? "none" : string.format("%s:%d", ports.host, ports.port);
  const network = ports.network === "" ? "none" : ports.network;
  return `node ${ports.name}, network ${network}, gateway ${gateway}. ${stateOf(state)}${told}`;
}

function answer(name: string, why: string): string {
  return why === "" ? `${name} taken; save keeps it` : `${name} ${why}`;
}

function tell(state: ReachState, name: string, value: string): string {
  const { ports } = state;
  const place = state.told ?? readPlace(ports.readFile(placeFile));
  if (place.network === "") place.network = ports.network;
  if (place.host === "") {
    place.host = ports.host;
    place.port = ports.port;
  }
  state.told = place;
  if (name === "network") return answer(name, takeNetwork(place, value));
  if (name === "password") return answer(name, takePassword(place, value));
  if (name === "gateway") return answer(name, takeGateway(place, value));
  return answer(name, takeCode(place, value));
}

function save(state: ReachState): string {
  if (state.told === undefined) return "nothing was told yet";
  const why = savePlace(state, state.told);
  return why === "" ? "saved; the node starts again" : why;
}

/** Carries out one line and returns its answer. */
export function consoleCommand(state: ReachState, line: string): string {
  const [name, value] = string.match(line, "^%s*([%a-]*)%s?(.-)[\r\n]*$");
  if (name === "network" || name === "password" || name === "gateway" || name === "code") {
    return tell(state, name, value ?? "");
  }
  if (name === "show") return show(state);
  if (name === "save") return save(state);
  if (name === "set-up") {
    state.asked = true;
    state.restUntilS = 0;
    return "the access point opens";
  }
  if (name === "forget") {
    state.ports.removeFile(placeFile);
    state.ports.removeFile(placeNewFile);
    state.ports.removeFile("provision");
    state.restartAtS = state.uptimeS + 3;
    return "the node has forgotten who and where it is, and starts again";
  }
  return name === "help" || name === "" ? help : `there is no ${name ?? ""}; ${help}`;
}
