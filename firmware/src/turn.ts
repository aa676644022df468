/** One turn of a node: a quarter of a second of measuring, warning and reporting. */
import { batteryTurn } from "./battery.ts";
import { tendConfig } from "./config-keeper.ts";
import { type GasEdge, loseLine, watchLine } from "./gas-watch.ts";
import { askTime } from "./hearing.ts";
import { warn } from "./judging.ts";
import { tendLink } from "./link.ts";
import type { NodeState } from "./node-state.ts";
import { headBytes } from "./pack.ts";
import { closeOpenPack, reportEdge, sendStatus, takeRow } from "./reporting.ts";
import { spill } from "./ring.ts";
import {
  bareArcDue,
  noteBareArc,
  noteBusy,
  nothing,
  packDue,
  remember,
  rowDue,
} from "./sampler.ts";
import { fittedProbes, isBlind, sense } from "./sensors.ts";

// A steady line for ten minutes with no arc counts as closed, where the node saw no gas go on.
const quietTurns = 2400;

function watchGas(state: NodeState): GasEdge {
  const { row, keeper, gas } = state;
  if (row.linePa === nothing) return isBlind(state.sensors, keeper.config) ? loseLine(gas) : "none";
  return watchLine(gas, row.linePa, keeper.config.line.rangePa, row.arc === 1, quietTurns);
}

function restartIfDue(state: NodeState): void {
  const { commands, clock, link } = state;
  if (commands.restartAtS === 0 || clock.uptimeS < commands.restartAtS) return;
  commands.restartAtS = 0;
  closeOpenPack(state);
  spill(state.ring, clock.uptimeS);
  link.ports.close();
  state.ports.restart(commands.restartWithUpdate);
}

/** Takes the time since start; see `Node.tick`. */
export function turn(state: NodeState, uptimeS: number, uptimeUs: number): void {
  const { clock, sampler, row, keeper, link } = state;
  clock.uptimeS = uptimeS;
  clock.uptimeMs = Math.floor(uptimeUs / 1000);
  if (state.ports.sleep !== undefined) {
    batteryTurn(state);
    return;
  }
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
  sampler.headBytes = headBytes(
    state.link.baseName.length,
    fittedProbes(state.sensors),
    state.sensors.scale.there,
    state.sensors.faults,
  );
  const edge = watchGas(state);
  const arcEdge = row.arc !== state.arcBefore && row.arc !== nothing && state.arcBefore !== nothing;
  state.arcBefore = row.arc;
  noteBusy(sampler, clock, state.gas.gas === "on" || state.gas.moving || row.arc === 1);
  const isEdge = edge !== "none" || arcEdge || faultChanged;
  // How an arc without gas goes on is told at once, too: a welder may weld in air.
  const bareArc = bareArcDue(sampler, clock);
  const taken = isEdge || bareArc || rowDue(sampler, clock, keeper.config);
  if (isEdge) {
    reportEdge(state);
    noteBareArc(sampler, clock, row.arc === 1 && state.gas.gas !== "on");
  } else if (taken) takeRow(state, row, false);
  remember(sampler, row, taken);
  const online = link.state === "up";
  if (
    state.commands.sendNow ||
    (bareArc && online) ||
    packDue(sampler, clock, keeper.config, online)
  )
    closeOpenPack(state);
  state.commands.sendNow = false;
  warn(state);
  tendLink(link, uptimeS);
  if (tendConfig(keeper, uptimeS, link.state === "up")) sendStatus(state);
  restartIfDue(state);
}
