/** Checks what a person tells a node of its place, one thing at a time. */
import { readCode } from "./code.ts";
import type { Place } from "./place.ts";

function hasControls(text: string): boolean {
  const [found] = string.find(text, "%c");
  return found !== undefined;
}

/** Each takes what was typed into `place` and returns "", or returns what is wrong with it. */
export function takeNetwork(place: Place, typed: string): string {
  if (typed === "") return "is missing";
  if (typed.length > 32) return "is longer than the 32 bytes a network's name may have";
  if (hasControls(typed)) return "has characters that no network's name has";
  place.network = typed;
  return "";
}

export function takePassword(place: Place, typed: string): string {
  if (typed.length > 0 && typed.length < 8) {
    return "is shorter than the 8 characters that a network's password has (leave it empty for an open network)";
  }
  if (typed.length > 63) return "is longer than 63 characters";
  if (hasControls(typed)) return "has characters that no password has";
  place.password = typed;
  return "";
}

export function takeGateway(place: Place, typed: string): string {
  const [trimmed] = string.match(typed, "^%s*(.-)%s*$");
  const [bare] = string.gsub(trimmed ?? "", "^%a+://", "");
  const [host, port] = string.match(bare, "^([%w][%w%.%-]*):?(%d*)/?$");
  if (bare === "") return "is missing";
  if (host === undefined || host.length > 100) {
    return "must be an address such as 192.0.2.10, or a name such as gateway.local";
  }
  const number = port === undefined || port === "" ? 1883 : (tonumber(port) ?? 0);
  if (number < 1 || number > 65535) return "must have a port from 1 to 65535, or none";
  place.host = host;
  place.port = number;
  return "";
}

export function takeCode(place: Place, typed: string): string {
  const [site, node, secret, why] = readCode(typed);
  if (why !== "") return why;
  place.site = site;
  place.node = node;
  place.secret = secret;
  return "";
}

/** What a place still lacks, beside what the node knew before; "" where nothing. */
export function lackOf(place: Place, enrolled: boolean): string {
  if (place.network === "") return "the network";
  if (place.host === "") return "the gateway";
  return place.secret === "" && !enrolled ? "the code" : "";
}
