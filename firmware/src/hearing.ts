/** What the node is told: the time, what is stored, its configuration, commands. */
import { topicLeaf } from "../../shared-core/messages/wire-names.ts";
import { takeCommand } from "./commands.ts";
import { offerConfig } from "./config-keeper.ts";
import { decodeObject, numberMember } from "./json.ts";
import { announceTime } from "./moment.ts";
import type { NodeState } from "./node-state.ts";
import { closeOpenPack, sendStatus } from "./reporting.ts";
import { release } from "./ring.ts";

const askTimeEveryS = 30;

/** Takes over a new idea of the time, in a pack of its own. */
function setTime(state: NodeState, unixS: number, unixMs: number, toleranceMs: number): boolean {
  const { clock } = state;
  const before = clock.startUnixS;
  const beforeMs = clock.startUnixMs;
  if (!announceTime(clock, unixS, unixMs, toleranceMs)) return false;
  if (before !== 0 && state.sampler.filled > 0) {
    const afterS = clock.startUnixS;
    const afterMs = clock.startUnixMs;
    clock.startUnixS = before;
    clock.startUnixMs = beforeMs;
    closeOpenPack(state);
    clock.startUnixS = afterS;
    clock.startUnixMs = afterMs;
  }
  return true;
}

/** Asks the port for the time: each second until a time server has answered, then now and then. */
export function askTime(state: NodeState): void {
  const { clock } = state;
  const everyS = clock.fromServer ? askTimeEveryS : 1;
  if (clock.uptimeS - state.askedTimeS < everyS) return;
  state.askedTimeS = clock.uptimeS;
  const [seconds, microseconds] = state.ports.unixTime();
  if (seconds === 0) return;
  setTime(state, seconds, Math.floor(microseconds / 1000), 100);
  clock.fromServer = true;
}

function hearTime(state: NodeState, payload: string): void {
  if (state.clock.fromServer) return;
  const [message] = decodeObject(payload);
  const unixS = message === undefined ? undefined : numberMember(message, "unix");
  if (unixS !== undefined) setTime(state, Math.floor(unixS), 0, 1500);
}

function hearStored(state: NodeState, payload: string): void {
  const [message] = decodeObject(payload);
  if (message === undefined) return;
  const boot = numberMember(message, "boot");
  const through = numberMember(message, "through");
  if (boot === undefined || through === undefined) return;
  release(state.ring, boot, through, state.clock.uptimeS);
}

/** A message on a subscribed topic. */
export function hear(state: NodeState, topic: string, payload: string): void {
  const { link } = state;
  state.clock.heardS = state.clock.uptimeS;
  if (topic === link.timeTopic) hearTime(state, payload);
  else if (topic === link.prefix + topicLeaf.stored) hearStored(state, payload);
  else if (topic === link.prefix + topicLeaf.command) takeCommand(state.commands, payload);
  else if (topic === link.prefix + topicLeaf.config) {
    if (offerConfig(state.keeper, payload, state.clock.uptimeS)) sendStatus(state);
  }
}
