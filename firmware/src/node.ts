/** A node: senses, gas watch, sampler, ring, link, settings, commands and warnings, put together. */
import { nodeState, topicLeaf } from "../../shared-core/messages/wire-names.ts";
import { countBoot } from "./boot.ts";
import { type Commands, createCommands, finishUpdate, takeCommand } from "./commands.ts";
import { type ConfigKeeper, offerConfig, openConfig, tendConfig } from "./config-keeper.ts";
import { createGasWatch, type GasEdge, type GasWatch, loseLine, watchLine } from "./gas-watch.ts";
import { decodeObject, numberMember, quote } from "./json.ts";
import {
  acknowledged,
  createLink,
  type Link,
  linkDown,
  linkUp,
  notify,
  pump,
  tendLink,
} from "./link.ts";
import { announceTime, type Clock, createClock } from "./moment.ts";
import type { Node, Ports } from "./ports.ts";
import { openRing, pushPack, type Ring, release, spill, waiting } from "./ring.ts";
import {
  addRow,
  closePack,
  createSampler,
  isFull,
  noteBusy,
  nothing,
  packDue,
  type Row,
  remember,
  replay,
  rowDue,
  type Sampler,
} from "./sampler.ts";
import { createSensors, isBlind, type Sensors, sense, temperatureText } from "./sensors.ts";
import {
  arcWithoutGas,
  createWarnings,
  cylinderLow,
  judgeWarning,
  lineHigh,
  lineLow,
  sensorFault,
  showWarnings,
  type Warnings,
} from "./warnings.ts";

// A steady line for ten minutes with no arc counts as closed, where the node saw no gas go on.
const quietTurns = 2400;
const askTimeEveryS = 30;

interface State {
  ports: Ports;
  version: string;
  boot: number;
  seq: number;
  clock: Clock;
  askedTimeS: number;
  keeper: ConfigKeeper;
  sensors: Sensors;
  gas: GasWatch;
  sampler: Sampler;
  ring: Ring;
  link: Link;
  commands: Commands;
  warnings: Warnings;
  row: Row;
  arcBefore: number;
}

function sendStatus(state: State): void {
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
  notify(state.link, topicLeaf.status, `${text}${error}}`, true);
}

/** Closes the pack being filled and hands it to the ring. */
function closeOpenPack(state: State): void {
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
  });
  pushPack(state.ring, pack, clock.uptimeS, state.link.state === "up");
  pump(state.link);
}

function takeRow(state: State, row: Row, keep: boolean): void {
  if (isFull(state.sampler)) closeOpenPack(state);
  addRow(state.sampler, row, keep);
}

/** Takes over a new idea of the time, in a pack of its own. */
function setTime(state: State, unixS: number, unixMs: number, toleranceMs: number): boolean {
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

function askTime(state: State): void {
  const { clock } = state;
  const everyS = clock.fromServer ? askTimeEveryS : 1;
  if (clock.uptimeS - state.askedTimeS < everyS) return;
  state.askedTimeS = clock.uptimeS;
  const [seconds, microseconds] = state.ports.unixTime();
  if (seconds === 0) return;
  setTime(state, seconds, Math.floor(microseconds / 1000), 100);
  clock.fromServer = true;
}

function hearTime(state: State, payload: string): void {
  if (state.clock.fromServer) return;
  const [message] = decodeObject(payload);
  const unixS = message === undefined ? undefined : numberMember(message, "unix");
  if (unixS !== undefined) setTime(state, Math.floor(unixS), 0, 1500);
}

function hearStored(state: State, payload: string): void {
  const [message] = decodeObject(payload);
  if (message === undefined) return;
  const boot = numberMember(message, "boot");
  const through = numberMember(message, "through");
  if (boot === undefined || through === undefined) return;
  release(state.ring, boot, through, state.clock.uptimeS);
}

function hear(state: State, topic: string, payload: string): void {
  const { link } = state;
  if (topic === link.timeTopic) hearTime(state, payload);
  else if (topic === link.prefix + topicLeaf.stored) hearStored(state, payload);
  else if (topic === link.prefix + topicLeaf.command) takeCommand(state.commands, payload);
  else if (topic === link.prefix + topicLeaf.config) {
    if (offerConfig(state.keeper, payload, state.clock.uptimeS)) sendStatus(state);
  }
}

function watchGas(state: State): GasEdge {
  const { row, keeper, gas } = state;
  if (row.linePa === nothing) return isBlind(state.sensors, keeper.config) ? loseLine(gas) : "none";
  return watchLine(gas, row.linePa, keeper.config.line.rangePa, row.arc === 1, quietTurns);
}

function warn(state: State): void {
  const { warnings, row, gas } = state;
  const { config } = state.keeper;
  const arc = row.arc === 1;
  const line = row.linePa;
  const cylinder = row.cylinderPa;
  const gasOn = gas.gas === "on";
  judgeWarning(warnings, arcWithoutGas, arc && gas.gas === "off", 5, 2);
  const tooLow = line !== nothing && config.lineLeastPa > 0 && line < config.lineLeastPa;
  judgeWarning(warnings, lineLow, gasOn && tooLow, 14, 4);
  const nearMost = line !== nothing && config.lineMostPa > 0 && line > config.lineMostPa * 0.95;
  judgeWarning(warnings, lineHigh, nearMost, 8, 40);
  const nearEmpty =
    cylinder !== nothing && config.residualPa > 0 && cylinder < config.residualPa * 1.1;
  judgeWarning(warnings, cylinderLow, nearEmpty, 40, 40);
  judgeWarning(warnings, sensorFault, isBlind(state.sensors, config), 8, 40);
  const welding = arc || (row.arc === nothing && gasOn);
  showWarnings(warnings, config, welding);
}

/** Reports an edge at once, with the ten seconds before it. */
function reportEdge(state: State): void {
  replay(state.sampler, state.row, (row) => takeRow(state, row, false));
  takeRow(state, state.row, true);
  closeOpenPack(state);
}

function restartIfDue(state: State): void {
  const { commands, clock, link } = state;
  if (commands.restartAtS === 0 || clock.uptimeS < commands.restartAtS) return;
  commands.restartAtS = 0;
  closeOpenPack(state);
  spill(state.ring, clock.uptimeS);
  link.ports.close();
  state.ports.restart(commands.restartWithUpdate);
}

function turn(state: State, uptimeS: number, uptimeUs: number): void {
  const { clock, sampler, row, keeper, link } = state;
  clock.uptimeS = uptimeS;
  clock.uptimeMs = Math.floor(uptimeUs / 1000);
  askTime(state);
  const faultsBefore = state.sensors.faults;
  const faultChanged = sense(state.sensors, keeper.config, clock, row);
  if (faultChanged && sampler.filled > 0) {
    // The rows so far belong to the faults so far.
    const faultsNow = state.sensors.faults;
    state.sensors.faults = faultsBefore;
    closeOpenPack(state);
    state.sensors.faults = faultsNow;
  }
  const edge = watchGas(state);
  const arcEdge = row.arc !== state.arcBefore && row.arc !== nothing && state.arcBefore !== nothing;
  state.arcBefore = row.arc;
  noteBusy(sampler, clock, state.gas.gas === "on" || state.gas.moving || row.arc === 1);
  const isEdge = edge !== "none" || arcEdge || faultChanged;
  const taken = isEdge || rowDue(sampler, clock, keeper.config);
  if (isEdge) reportEdge(state);
  else if (taken) takeRow(state, row, false);
  remember(sampler, row, taken);
  const online = link.state === "up";
  if (state.commands.sendNow || packDue(sampler, clock, keeper.config, online))
    closeOpenPack(state);
  state.commands.sendNow = false;
  warn(state);
  tendLink(link, uptimeS);
  if (tendConfig(keeper, uptimeS, link.state === "up")) sendStatus(state);
  restartIfDue(state);
}

function lose(state: State): void {
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
  const state: State = {
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
