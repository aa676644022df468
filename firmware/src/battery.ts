/**
 * A node on a battery watches content only: it wakes, measures once, keeps the row in its ring and
 * sleeps again; every so many wakes, or where something is wrong, it sends what it has kept. Each
 * wake is a start with a boot number of its own. Line pressure is measured, but nothing is seen
 * between two wakes: no flow, no gas-on, no arc.
 */
import { settleConfig } from "./config-keeper.ts";
import { askTime } from "./hearing.ts";
import { tendLink } from "./link.ts";
import { unixNow } from "./moment.ts";
import { standardBatteryPace } from "./node-config.ts";
import type { NodeState } from "./node-state.ts";
import { closeOpenPack, sendStatus, takeRow } from "./reporting.ts";
import { spill, waiting } from "./ring.ts";
import { nothing, type Wake } from "./sampler.ts";
import { isBlind, sense } from "./sensors.ts";

// A temperature probe needs 750 ms, the converter a few readings, a fault to be sure two turns.
const warmUpS = 2;
const patienceS = 45;
// Retained messages come right after the connection.
const listenS = 2;

function wakeOf(state: NodeState): Wake {
  const { sampler } = state;
  sampler.wake ??= { measured: false, due: false, idleSinceS: -1, asleep: false };
  return sampler.wake;
}

/** Whether this wake sends: its turn has come, somebody pressed reset, or there is news. */
function isDue(state: NodeState): boolean {
  const { config } = state.keeper;
  const pace = config.battery ?? standardBatteryPace;
  const every = Math.max(1, Math.floor(pace.sendS / pace.measureS + 0.5));
  if (state.ports.reset !== "wake" || state.boot % every === 0) return true;
  if (unixNow(state.clock) === 0 || isBlind(state.sensors, config)) return true;
  const { cylinderPa } = state.row;
  return cylinderPa !== nothing && config.residualPa > 0 && cylinderPa < config.residualPa * 1.1;
}

function fallAsleep(state: NodeState): void {
  const { ports, keeper, link, ring, clock } = state;
  if (link.state === "up") settleConfig(keeper);
  spill(ring, clock.uptimeS);
  if (link.state !== "down") ports.close();
  wakeOf(state).asleep = true;
  ports.sleep?.((keeper.config.battery ?? standardBatteryPace).measureS);
}

/** One turn of a wake. */
export function batteryTurn(state: NodeState): void {
  const battery = wakeOf(state);
  const { clock, link, ring, row, sensors } = state;
  if (battery.asleep) return;
  askTime(state);
  sense(sensors, state.keeper.config, clock, row);
  if (!battery.measured && clock.uptimeS >= warmUpS) {
    battery.measured = true;
    takeRow(state, row, true);
    closeOpenPack(state);
    battery.due = isDue(state);
  }
  if (battery.measured && !battery.due) {
    fallAsleep(state);
    return;
  }
  if (!battery.due) return;
  const wasUp = link.state === "up";
  tendLink(link, clock.uptimeS);
  if (!wasUp && link.state === "up") sendStatus(state);
  const quiet = link.state === "up" && link.inFlight === "nothing" && waiting(ring) === 0;
  if (!quiet) battery.idleSinceS = -1;
  else if (battery.idleSinceS < 0) battery.idleSinceS = clock.uptimeS;
  const done = quiet && clock.uptimeS - battery.idleSinceS >= listenS;
  if (done || clock.uptimeS >= patienceS) fallAsleep(state);
}
