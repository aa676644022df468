/** Temperature probes: cylinder wall, regulator body, ambient. */
import { noFault, openCircuit, outOfRange } from "./measure.ts";
import type { Ports, TemperatureProbe } from "./ports.ts";

export interface Probe {
  probe: TemperatureProbe;
  fitted: boolean;
  fault: number;
  /** °C; only where fitted and without fault. */
  celsius: number;
  /** False until a first believable reading. */
  known: boolean;
  doubtful: number;
}

export function createProbe(probe: TemperatureProbe): Probe {
  return { probe, fitted: false, fault: noFault, celsius: 0, known: false, doubtful: 0 };
}

const noAnswer = -1000;
// A digital probe reads exactly 85 °C after power-on, before its first conversion.
const powerOnCelsius = 85;
const doubtfulTurns = 3;

function judge(state: Probe, celsius: number): number {
  if (celsius <= noAnswer) return openCircuit;
  if (celsius < -40 || celsius > 125) return outOfRange;
  const near = state.known && state.celsius > powerOnCelsius - 5;
  return celsius === powerOnCelsius && !near ? outOfRange : noFault;
}

/** Reads one probe. A single doubtful reading is left out; three in a row are a fault. */
export function readProbe(ports: Ports, state: Probe): void {
  const celsius = ports.readTemperature(state.probe);
  if (celsius === undefined) {
    state.fitted = false;
    return;
  }
  state.fitted = true;
  const seen = judge(state, celsius);
  if (seen === noFault) {
    state.doubtful = 0;
    state.fault = noFault;
    state.celsius = celsius;
    state.known = true;
    return;
  }
  state.doubtful += 1;
  if (state.doubtful >= doubtfulTurns) {
    state.fault = seen;
    state.known = false;
  }
}
