/** The bundle's entry: what a port starts. */
import { createNode } from "./node.ts";
import type { Node, Ports } from "./ports.ts";
import { checkSelf } from "./self-test.ts";

export const version = "0.1.0";

export function start(ports: Ports): Node {
  return createNode(ports, version);
}

export function selfTest(): string {
  return checkSelf();
}
