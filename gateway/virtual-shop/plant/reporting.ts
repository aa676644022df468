import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import {
  faultSuffix,
  faultWord,
  recordName,
  senmlUnit,
  topicLeaf,
  topicRoot,
} from "@leeward/shared-core/messages/wire-names.ts";
import type { Plant } from "./plant-interface.ts";
import type { Random } from "./random.ts";
import type { SensorReadings } from "./sensors.ts";

/** One record of a SenML pack (RFC 8428), base fields included. */
export interface SenmlRecord {
  bn?: string;
  bt?: number;
  n: string;
  u?: string;
  v?: number;
  vb?: boolean;
  vs?: string;
  t?: number;
}

/** A message as the gateway receives it: a line of a replay file. */
export interface ReceivedPack {
  received: number;
  topic: string;
  payload: SenmlRecord[];
}

export interface NodeOptions {
  site: string;
  node: string;
  drop: number;
  boot: number;
  /** Whether the arc signal is reported. */
  arc: boolean;
  /** Seconds between rows and between packs: flowing, idle. */
  flowingRowS: number;
  flowingPackS: number;
  idleRowS: number;
  idlePackS: number;
  /** Rows stay this close so long after the line last moved, s. */
  settleS: number;
  /** On the way from node to gateway, s. */
  latencyS: [number, number];
  /** Share of packs that arrive twice, and that arrive late (by up to `lateS`). */
  repeatShare: number;
  lateShare: number;
  lateS: number;
}

export const ordinaryNode: NodeOptions = {
  site: "north",
  node: "n-07",
  drop: 0,
  boot: 17,
  arc: false,
  flowingRowS: 1,
  flowingPackS: 2,
  idleRowS: 15,
  idlePackS: 60,
  settleS: 15,
  latencyS: [0.05, 0.3],
  repeatShare: 0,
  lateShare: 0,
  lateS: 120,
};

/** Node options that fit a description: names, and the pace of a node without a line sensor. */
export function nodeOptionsFor(
  station: StationDocument,
  changes: Partial<NodeOptions> = {},
): NodeOptions {
  return {
    ...ordinaryNode,
    site: station.site,
    node: station.node ?? station.station,
    idleRowS: station.sensors?.line ? 15 : 5,
    ...changes,
  };
}

interface Row {
  t: number;
  cylinderPa: number;
  cylinderFault: number;
  linePa: number;
  lineFault: number;
  arc: boolean;
  /** Already in a pack, or on its way into one. */
  kept: boolean;
}

const faultWords = ["", faultWord.openCircuit, faultWord.shortCircuit];
/** Most rows in one pack, so that it stays below a node's limit of 1.2 kB. */
const mostRows = 8;

/**
 * What a node would send, from the plant's sensors, without its firmware: the same pace, packs,
 * edges and identity. For accuracy runs; the demo's stations run the real firmware.
 */
export class NodeReporter {
  readonly options: NodeOptions;
  private readonly random: Random;
  private readonly topic: string;
  private readonly recent: Row[] = [];
  private pending: Row[] = [];
  private held: ReceivedPack[] = [];
  private seq = 0;
  private boot: number;
  private bootS: number;
  private lastRowS = Number.NEGATIVE_INFINITY;
  private lastPackS: number;
  private activeUntilS = Number.NEGATIVE_INFINITY;
  private mark = "";
  private lastReceivedS = 0;
  private arcWas = false;
  /** Until when an arc without gas is told each second: the firmware does so each half second. */
  private bareArcUntilS = Number.NEGATIVE_INFINITY;
  private faultWas = 0;
  linkDown = false;
  nodeOff = false;

  constructor(options: NodeOptions, random: Random, startS: number) {
    this.options = options;
    this.random = random;
    this.boot = options.boot;
    this.bootS = startS - random.between(5, 100000);
    this.lastPackS = startS;
    this.topic = `${topicRoot}/${options.site}/${options.node}/${topicLeaf.samples}`;
  }

  /** Node switched off: nothing is measured or kept. */
  powerOff(): void {
    this.nodeOff = true;
    this.recent.length = 0;
    this.pending = [];
    this.held = [];
  }

  /** Node switched on again: a new boot. */
  powerOn(tS: number): void {
    this.nodeOff = false;
    this.boot += 1;
    this.seq = 0;
    this.bootS = tS;
    this.lastPackS = tS;
    this.lastRowS = Number.NEGATIVE_INFINITY;
    this.activeUntilS = Number.NEGATIVE_INFINITY;
  }

  /** Longest the caller may wait before the next `tick`, s, if nobody touches the plant. */
  patienceS(tS: number): number {
    if (tS < this.activeUntilS) return 1;
    return Math.max(1, Math.min(this.options.idleRowS, this.lastRowS + this.options.idleRowS - tS));
  }

  /** Measures at the plant's present time and returns what the gateway receives from it. */
  tick(plant: Plant): ReceivedPack[] {
    const sent: ReceivedPack[] = [];
    if (this.nodeOff) return sent;
    const { options } = this;
    const t = plant.t;
    const r = plant.readSensors(options.drop);
    const row: Row = {
      t,
      cylinderPa: r.cylinderPa,
      cylinderFault: r.cylinderFault,
      linePa: r.linePa,
      lineFault: r.lineFault,
      arc: r.arc,
      kept: false,
    };
    const input = plant.inputs.drops[options.drop];
    const flowing = input?.torchOpen ?? false;
    const hasLine = !Number.isNaN(r.linePa);
    const mark = `${flowing && hasLine}${hasLine && plant.inputs.cylinderValveOpen}`;
    const fault = r.cylinderFault * 4 + r.lineFault;
    const arc = options.arc && r.arc;
    const edge =
      (this.mark !== "" && mark !== this.mark) || arc !== this.arcWas || fault !== this.faultWas;
    this.mark = mark;
    this.arcWas = arc;
    this.faultWas = fault;
    if ((flowing && hasLine) || arc || edge) this.activeUntilS = t + options.settleS;
    const active = t < this.activeUntilS;

    if (edge) {
      for (const earlier of this.recent) {
        if (earlier.t >= t - 10.5) this.keep(earlier);
      }
    }
    if (edge) this.bareArcUntilS = arc && !flowing ? t + 4 : Number.NEGATIVE_INFINITY;
    const bareArc = !edge && t <= this.bareArcUntilS + 1e-6;
    const rowEvery = active ? options.flowingRowS : options.idleRowS;
    if (edge || bareArc || t - this.lastRowS >= rowEvery - 1e-6) {
      this.keep(row);
      this.lastRowS = t;
    }
    this.recent.push(row);
    if (this.recent.length > 12) this.recent.shift();

    const packEvery = active ? options.flowingPackS : options.idlePackS;
    const due = edge || bareArc || t - this.lastPackS >= packEvery - 1e-6;
    if (this.pending.length > 0 && due) {
      this.lastPackS = t;
      if (edge) this.pending.sort((a, b) => a.t - b.t);
      while (this.pending.length > 0) {
        const rows = this.pending.splice(0, mostRows);
        this.send(this.pack(rows, r), t, sent);
      }
    }
    return sent;
  }

  private keep(row: Row): void {
    if (row.kept) return;
    row.kept = true;
    this.pending.push(row);
  }

  private send(payload: SenmlRecord[], t: number, sent: ReceivedPack[]): void {
    const { options, random } = this;
    const delay = random.between(options.latencyS[0], options.latencyS[1]);
    // What waited behind a broken link goes first: a node sends strictly in order.
    this.release(t, sent);
    // One connection: what was sent first arrives first.
    const received = Math.max(t + delay, this.lastReceivedS + 0.001);
    const message = { received, topic: this.topic, payload };
    if (this.linkDown || (options.lateShare > 0 && random.next() < options.lateShare)) {
      message.received = this.linkDown
        ? Number.POSITIVE_INFINITY
        : t + random.between(1, options.lateS);
      this.held.push(message);
      return;
    }
    this.lastReceivedS = received;
    sent.push(message);
    if (options.repeatShare > 0 && random.next() < options.repeatShare) {
      this.held.push({ ...message, received: t + random.between(0.5, 30) });
    }
  }

  /** Lets out what was held back and is due now; after a link failure everything, oldest first. */
  release(t: number, sent: ReceivedPack[]): void {
    if (this.held.length === 0 || this.linkDown) return;
    const kept: ReceivedPack[] = [];
    for (const message of this.held) {
      if (message.received === Number.POSITIVE_INFINITY) {
        this.lastReceivedS = Math.max(t + 0.4, this.lastReceivedS + 0.001);
        sent.push({ ...message, received: this.lastReceivedS });
      } else if (message.received <= t + 0.3) sent.push({ ...message, received: t + 0.4 });
      else kept.push(message);
    }
    this.held = kept;
  }

  private pack(rows: Row[], r: SensorReadings): SenmlRecord[] {
    const { options } = this;
    this.seq += 1;
    const bt = Math.round((rows[0] as Row).t * 1000) / 1000;
    const last = rows[rows.length - 1] as Row;
    const records: SenmlRecord[] = [
      { bn: `${options.site}/${options.node}:`, bt, n: recordName.boot, v: this.boot },
      { n: recordName.seq, v: this.seq },
      { n: recordName.uptime, v: Math.floor(last.t - this.bootS) },
    ];
    const temperature = (n: string, c: number) => {
      if (Number.isNaN(c)) return;
      records.push({ n, u: senmlUnit.celsius, v: Math.round(c * 1e4) / 1e4, t: last.t - bt });
    };
    if (r.wallFault === 0) temperature(recordName.cylinderTemperature, r.wallC);
    temperature(recordName.regulatorTemperature, r.bodyC);
    temperature(recordName.ambientTemperature, r.airC);
    let arcTold = false;
    let arc = false;
    for (const row of rows) {
      const t = Math.round((row.t - bt) * 1000) / 1000;
      this.pressure(records, recordName.cylinderPressure, row.cylinderPa, row.cylinderFault, t);
      if (!Number.isNaN(row.linePa)) {
        this.pressure(records, recordName.linePressure, row.linePa, row.lineFault, t);
      }
      if (options.arc && (!arcTold || row.arc !== arc)) {
        records.push({ n: recordName.arc, vb: row.arc, t });
        arcTold = true;
        arc = row.arc;
      }
    }
    return records;
  }

  private pressure(records: SenmlRecord[], n: string, pa: number, fault: number, t: number): void {
    if (fault === 0) records.push({ n, u: senmlUnit.pascal, v: Math.round(pa), t });
    else records.push({ n: n + faultSuffix, vs: faultWords[fault] as string, t });
  }
}
