/** The bundle's entry: what a port starts. */
import { createNode } from "./node.ts";
import type { Node, Ports, Reach, ReachPorts } from "./ports.ts";
import { checkSelf } from "./self-test.ts";
import { createReach } from "./set-up/reach.ts";

export const version = "0.1.0";

export function start(ports: Ports): Node {
  return createNode(ports, version);
}

export function keepReachable(ports: ReachPorts): Reach {
  return createReach(ports);
}

export function selfTest(): string {
  return checkSelf();
}
