/**
 * Fetching a new bundle: plain HTTP/1.0 into the file `update.new`, piece by piece, so that it never
 * has to fit into memory. Its HMAC-SHA-256 is what makes it trustworthy, not the way it came; its
 * key is made from the node's secret, so that the gateway can sign without keeping the secret itself.
 */
import { updateKeyLabel } from "../../shared-core/messages/enrolment-names.ts";
import type { Files } from "./chip.ts";

export const updateFile = "update.new";
/** Starts that the new bundle has had; there from installation until it is confirmed. */
export const trialFile = "update.try";
const patienceMs = 60000;

interface Fetch {
  head: string;
  inBody: boolean;
  received: number;
  ended: boolean;
}

function hexOf(binary: string): string {
  let hex = "";
  for (let index = 1; index <= binary.length; index++) {
    hex += string.format("%02x", string.byte(binary, index) ?? 0);
  }
  return hex;
}

/** The key that updates of this node are signed with, hexadecimal. */
export function updateKey(secret: string): string {
  const hasher = crypto.new_hmac("sha256", secret);
  hasher.update(updateKeyLabel);
  return hexOf(hasher.finalize());
}

/** True where the texts are equal; takes the same time wherever they differ. */
function sameText(a: string, b: string): boolean {
  if (a.length !== b.length) return false;
  let differences = 0;
  for (let index = 1; index <= a.length; index++) {
    if (string.byte(a, index) !== string.byte(b, index)) differences += 1;
  }
  return differences === 0;
}

/** Takes a piece of the answer; the part of it that belongs to the body. */
function bodyOf(fetch: Fetch, data: string): string {
  if (fetch.inBody) return data;
  fetch.head += data;
  const [from, to] = string.find(fetch.head, "\r\n\r\n", 1, true);
  if (from === undefined || to === undefined) return "";
  fetch.inBody = true;
  return string.sub(fetch.head, to + 1);
}

function judge(fetch: Fetch, bytes: number, hmac: string, digest: string): string {
  const [status] = string.match(fetch.head, "^HTTP/1%.%d (%d%d%d)");
  if (status !== "200") return `the server answered ${status ?? "nothing"}`;
  if (fetch.received !== bytes) {
    return string.format("%d bytes came instead of %d", fetch.received, bytes);
  }
  const [lower] = string.gsub(hmac, "%u", (letter) => string.char((string.byte(letter) ?? 0) + 32));
  return sameText(lower, digest) ? "" : "the HMAC differs";
}

export function fetchUpdate(
  files: Files,
  key: string,
  url: string,
  bytes: number,
  hmac: string,
  finished: (why: string) => void,
): void {
  const [host, port, path] = string.match(url, "^http://([%w%.%-]+):?(%d*)(/%S*)$");
  if (host === undefined || path === undefined) {
    finished("the URL must be http://host[:port]/path");
    return;
  }
  const hasher = crypto.new_hmac("sha256", key);
  const fetch: Fetch = { head: "", inBody: false, received: 0, ended: false };
  const socket = net.createConnection();
  files.remove(updateFile);
  const end = (why: string): void => {
    if (fetch.ended) return;
    fetch.ended = true;
    const verdict = why !== "" ? why : judge(fetch, bytes, hmac, hexOf(hasher.finalize()));
    if (verdict !== "") files.remove(updateFile);
    finished(verdict);
  };
  socket.on("connection", () => socket.send(`GET ${path} HTTP/1.0\r\nHost: ${host}\r\n\r\n`));
  socket.on("receive", (_socket, data) => {
    if (fetch.ended) return;
    const body = bodyOf(fetch, data);
    fetch.received += body.length;
    if (body === "") {
      if (!fetch.inBody && fetch.head.length > 2000) end("the server's answer is no HTTP");
      return;
    }
    hasher.update(body);
    if (fetch.received > bytes) end("more bytes came than announced");
    else if (!files.append(updateFile, body)) end("the flash is full");
  });
  socket.on("disconnection", () => end(""));
  tmr.create().alarm(patienceMs, tmr.ALARM_SINGLE, () => end("the download took over a minute"));
  socket.connect(tonumber(port ?? "") ?? 80, host);
}
