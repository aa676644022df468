/**
 * Entry of the set-up's own bundle: the page and the console, loaded only while somebody uses them, so
 * that they cost a node in use no memory.
 */
import type { WebConversation } from "../ports.ts";
import { consoleCommand } from "./console.ts";
import type { ReachState } from "./reach-state.ts";
import { converse as converseWith } from "./web.ts";

export function converse(state: ReachState): WebConversation {
  return converseWith(state);
}

export function command(state: ReachState, line: string): string {
  return consoleCommand(state, line);
}
