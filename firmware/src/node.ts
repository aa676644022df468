/** A node: senses, gas watch, sampler, ring, link, settings, commands and warnings, put together. */
import { countBoot } from "./boot.ts";
import { createCommands, finishUpdate } from "./commands.ts";
import { openConfig } from "./config-keeper.ts";
import { createGasWatch } from "./gas-watch.ts";
import { hear } from "./hearing.ts";
import { acknowledged, createLink, linkDown, linkUp } from "./link.ts";
import { createClock } from "./moment.ts";
import type { NodeState } from "./node-state.ts";
import type { Node, Ports } from "./ports.ts";
import { sendStatus } from "./reporting.ts";
import { openRing, spill } from "./ring.ts";
import { createSampler, nothing } from "./sampler.ts";
import { createSensors } from "./sensors.ts";
import { turn } from "./turn.ts";
import { createWarnings } from "./warnings.ts";

function lose(state: NodeState): void {
  if (state.link.state === "down") return;
  linkDown(state.link);
  spill(state.ring, state.clock.uptimeS);
}

export function createNode(ports: Ports, version: string): Node {
  const boot = countBoot(ports);
  const ring = openRing(ports);
  const clock = createClock();
  const link = createLink(ports, ring, boot);
  const warnings = createWarnings(ports);
  const state: NodeState = {
    ports,
    version,
    boot,
    seq: 0,
    clock,
    askedTimeS: -1000,
    keeper: openConfig(ports),
    sensors: createSensors(ports),
    gas: createGasWatch(),
    sampler: createSampler(),
    ring,
    link,
    commands: createCommands(link, clock, warnings),
    warnings,
    row: { s: 0, ms: 0, linePa: nothing, cylinderPa: nothing, arc: nothing },
    arcBefore: nothing,
  };
  return {
    tick: (uptimeS, uptimeUs) => turn(state, uptimeS, uptimeUs),
    connected: () => {
      linkUp(link);
      if (link.state === "up") sendStatus(state);
      ports.confirmUpdate();
    },
    disconnected: () => lose(state),
    published: () => acknowledged(link),
    message: (topic, payload) => hear(state, topic, payload),
    updateReady: (why) => finishUpdate(state.commands, why),
  };
}
