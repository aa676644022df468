/** Commands of the gateway: each is answered once, and done at most once. */
import { commandName, topicLeaf } from "../../shared-core/messages/wire-names.ts";
import {
  decodeObject,
  type JsonObject,
  type JsonValue,
  numberMember,
  quote,
  stringMember,
} from "./json.ts";
import { type Link, notify } from "./link.ts";
import { type Clock, unixNow } from "./moment.ts";
import type { Warnings } from "./warnings.ts";

const turnsPerS = 4;
const identifyS = 15;
const longestSignalS = 60;
const idsKept = 4;

export interface Commands {
  link: Link;
  clock: Clock;
  warnings: Warnings;
  /** Ids done lately, so that a repeated message is answered but not done again. */
  done: string[];
  sendNow: boolean;
  /** A restart is due at this uptime; 0 none. */
  restartAtS: number;
  restartWithUpdate: boolean;
  updateId: string;
}

export function createCommands(link: Link, clock: Clock, warnings: Warnings): Commands {
  return {
    link,
    clock,
    warnings,
    done: [],
    sendNow: false,
    restartAtS: 0,
    restartWithUpdate: false,
    updateId: "",
  };
}

function reply(commands: Commands, id: string, why: string): void {
  const end = why === "" ? "true" : `false,"why":${quote(why)}`;
  notify(commands.link, topicLeaf.reply, `{"id":${quote(id)},"ok":${end}}`, false);
}

/** Lamp and buzzer may be asked for by `true` or by a word; "" and "off" are no. */
function wanted(value: JsonValue | undefined): boolean {
  return value === true || (type(value) === "string" && value !== "" && value !== "off");
}

function signal(commands: Commands, message: JsonObject): string {
  const seconds = numberMember(message, "seconds") ?? 5;
  if (seconds < 1 || seconds > longestSignalS) return "seconds must lie between 1 and 60";
  const lamp = wanted(message.lamp);
  const buzzer = wanted(message.buzzer);
  if (!lamp && !buzzer) return "neither lamp nor buzzer is asked for";
  const turns = Math.floor(seconds * turnsPerS);
  if (lamp) commands.warnings.lampTurns = turns;
  if (buzzer) commands.warnings.buzzerTurns = turns;
  return "";
}

function update(commands: Commands, id: string, message: JsonObject): string {
  const url = stringMember(message, "url");
  const bytes = numberMember(message, "bytes");
  const [hmac] = string.match(stringMember(message, "hmac") ?? "", "^(%x+)$");
  if (url === undefined || bytes === undefined || hmac === undefined || hmac.length !== 64) {
    return "update needs url, bytes and hmac (64 hexadecimal digits)";
  }
  if (bytes < 1000 || bytes > 200000) return "bytes must lie between 1000 and 200000";
  if (commands.updateId !== "") return "an update is under way";
  commands.updateId = id;
  commands.link.ports.fetchUpdate(url, bytes, hmac);
  return "";
}

function perform(commands: Commands, id: string, message: JsonObject): string {
  const action = stringMember(message, "do");
  if (action === commandName.identify) commands.warnings.identifyTurns = identifyS * turnsPerS;
  else if (action === commandName.signal) return signal(commands, message);
  else if (action === commandName.sendNow) commands.sendNow = true;
  else if (action === commandName.update) return update(commands, id, message);
  else if (action === commandName.restart) commands.restartAtS = commands.clock.uptimeS + 3;
  else return "unknown command";
  return "";
}

function isLate(commands: Commands, message: JsonObject): string {
  const expires = numberMember(message, "expires");
  if (expires === undefined) return "expires is missing";
  const nowS = unixNow(commands.clock);
  if (nowS === 0) return "the node has no clock yet, so it cannot tell whether this is late";
  return nowS > expires ? "expired" : "";
}

/** Takes a `command` message. One without a readable id cannot be answered and is ignored. */
export function takeCommand(commands: Commands, text: string): void {
  const [message] = decodeObject(text);
  if (message === undefined) return;
  const id = stringMember(message, "id");
  if (id === undefined || id === "" || id.length > 64) return;
  for (const known of commands.done) {
    if (known === id) return;
  }
  let why = isLate(commands, message);
  if (why === "") {
    commands.done.push(id);
    if (commands.done.length > idsKept) table.remove(commands.done, 1);
    why = perform(commands, id, message);
  }
  if (why !== "" || commands.updateId !== id) reply(commands, id, why);
}

/** The end of `fetchUpdate`. */
export function finishUpdate(commands: Commands, why: string): void {
  const id = commands.updateId;
  if (id === "") return;
  commands.updateId = "";
  reply(commands, id, why);
  if (why === "") {
    commands.restartAtS = commands.clock.uptimeS + 3;
    commands.restartWithUpdate = true;
  }
}
