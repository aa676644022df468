/** What the node says: its status, its packs, and edges at once. */
import { nodeState, topicLeaf } from "../../shared-core/messages/wire-names.ts";
import { quote } from "./json.ts";
import { notify, pump } from "./link.ts";
import type { NodeState } from "./node-state.ts";
import { pushPack, waiting } from "./ring.ts";
import { addRow, closePack, isFull, type Row, replay } from "./sampler.ts";
import { massText } from "./scale.ts";
import { temperatureText } from "./sensors.ts";

/** Publishes the retained status. */
export function sendStatus(state: NodeState): void {
  const { keeper } = state;
  const text = string.format(
    '{"state":"%s","firmware":"%s","boot":%d,"config":%d,"uptime":%d,"reset":%s,"queued":%d',
    nodeState.online,
    state.version,
    state.boot,
    keeper.config.revision,
    state.clock.uptimeS,
    quote(state.ports.reset),
    waiting(state.ring),
  );
  const error = keeper.error === "" ? "" : `,"configError":${quote(keeper.error)}`;
  const power = state.ports.sleep === undefined ? "" : ',"power":"battery"';
  // What an uncalibrated scale shows, so that it can be calibrated.
  const { scale } = state.sensors;
  const reads =
    scale.there && scale.known
      ? string.format(',"scaleReads":%d', Math.floor(scale.counts + 0.5))
      : "";
  notify(state.link, topicLeaf.status, `${text}${power}${reads}${error}}`, true);
}

/** Closes the pack being filled and hands it to the ring. */
export function closeOpenPack(state: NodeState): void {
  const { sampler, clock, sensors } = state;
  if (sampler.filled === 0) return;
  let unixS = 0;
  let unixMs = 0;
  if (clock.startUnixS !== 0) {
    unixMs = clock.startUnixMs + clock.uptimeMs;
    unixS = clock.startUnixS + clock.uptimeS;
    if (unixMs >= 1000) {
      unixMs -= 1000;
      unixS += 1;
    }
  }
  state.seq += 1;
  const pack = closePack(sampler, {
    boot: state.boot,
    seq: state.seq,
    unixS,
    unixMs,
    uptimeS: clock.uptimeS,
    uptimeMs: clock.uptimeMs,
    thinned: 0,
    supplyMv: Math.floor(sensors.supplyUv / 1000 + 0.5),
    cylinderC: temperatureText(sensors.probes[0]),
    regulatorC: temperatureText(sensors.probes[1]),
    ambientC: temperatureText(sensors.probes[2]),
    faults: sensors.faults,
    massKg: massText(sensors.scale, state.keeper.config.scale),
  });
  pushPack(state.ring, pack, clock.uptimeS, state.link.state === "up");
  pump(state.link);
}

/** Adds a row to the pack being filled; a full one is closed before. */
export function takeRow(state: NodeState, row: Row, keep: boolean): void {
  if (isFull(state.sampler)) closeOpenPack(state);
  addRow(state.sampler, row, keep);
}

/** Reports an edge at once, with the ten seconds before it. */
export function reportEdge(state: NodeState): void {
  replay(state.sampler, state.row, (row) => takeRow(state, row, false));
  takeRow(state, state.row, true);
  closeOpenPack(state);
}
