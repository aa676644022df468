import { z } from "zod";
import { describeFaults, parseDocument } from "../documents/parse.ts";
import { stationSchema, supplySchema } from "../documents/station.ts";
import { nearestKey, unknownKeys } from "../documents/unknown-keys.ts";
import type { ReceivedItem, SupplySetup } from "../estimation/engine.ts";
import { contentHash } from "./content-hash.ts";
import { type MessageFault, type MessageResult, refuse } from "./dead-letter-reasons.ts";
import { type NodeStatus, statusSchema } from "./node-messages.ts";
import { PackPlacer } from "./pack-placer.ts";
import { checkPackTimes, newestAbsoluteTime } from "./pack-times.ts";
import {
  jobEntrySchema,
  leakTestEntrySchema,
  personEntrySchema,
  purgeEntrySchema,
  swapEntrySchema,
} from "./person-entry.ts";
import { checkSamplePack, packIdentity, type SentPack } from "./sample-pack.ts";
import { parseJson } from "./senml.ts";
import { parseNodeTopic } from "./topics.ts";

/** Lines of a samples file, in order of receipt, turned into what an engine receives. */

const wrapperSchema = z.union([
  z.looseObject({ received: z.number(), topic: z.string(), payload: z.unknown() }),
  z.looseObject({
    received: z.number(),
    person: personEntrySchema,
    station: z.string().optional(),
  }),
  z.looseObject({ received: z.number(), setup: z.unknown() }),
]);

const setupSchema: z.ZodType<SupplySetup> = z.object({
  supply: supplySchema.nullable(),
  stations: z.array(stationSchema).min(1),
  timeZone: z.string().optional(),
});

export type ReplayLine = { ok: true; items: ReceivedItem[] } | { ok: false; fault: MessageFault };

/** Nodes whose messages belong to a supply: its own and those of its stations. */
export function nodesOfSetup(setup: SupplySetup): Set<string> {
  const nodes = [setup.supply?.node, ...setup.stations.map((station) => station.node)];
  return new Set(nodes.filter((node): node is string => typeof node === "string"));
}

/**
 * Reads lines for one supply. A bare pack counts as received at its newest absolute time; the time
 * of receipt never falls. Repeats of a pack are read once.
 */
export class ReplayReader {
  #setup: SupplySetup;
  #nodes: Set<string>;
  readonly #placer = new PackPlacer();
  readonly #seen = new Set<string>();
  #lastReceivedS = Number.NEGATIVE_INFINITY;

  constructor(setup: SupplySetup) {
    this.#setup = setup;
    this.#nodes = nodesOfSetup(setup);
  }

  /** Reads one line; a fault says what is wrong with it, and the next line can be read. */
  read(line: string): ReplayLine {
    const json = parseJson(line);
    if (!json.ok) return json;
    if (Array.isArray(json.value)) return this.#barePack(json.value);
    if (isObject(json.value) && "person" in json.value) {
      const fault = personFault(json.value);
      if (fault !== null) return refuse("bad-person", "", fault);
    }
    const wrapper = wrapperSchema.safeParse(json.value);
    if (!wrapper.success) {
      return refuse(
        "not-senml",
        "",
        `is neither a pack nor an object with received and topic, person or setup (${z.prettifyError(wrapper.error).replaceAll(/\s+/g, " ")})`,
      );
    }
    const received = Math.max(wrapper.data.received, this.#lastReceivedS);
    const entryLine = wrapper.data;
    if ("person" in entryLine) {
      const station = entryLine.station as string | undefined;
      if (this.#setup.stations.length > 1 && station === undefined) {
        return refuse("bad-person", "station", "is missing: this supply has several stations");
      }
      const entry = { received, person: personEntrySchema.parse(entryLine.person) };
      return this.#pass(received, [station === undefined ? entry : { ...entry, station }]);
    }
    if ("topic" in entryLine)
      return this.#message(received, String(entryLine.topic), entryLine.payload);
    return this.#newSetup(received, entryLine.setup);
  }

  /** After the last line: packs that still wait for an absolute time, stamped. */
  end(): ReceivedItem[] {
    return this.#placer.expire(Number.POSITIVE_INFINITY);
  }

  #barePack(value: unknown): ReplayLine {
    const checked = this.#withNode(checkSamplePack(value, null));
    if (!checked.ok) return checked;
    const newest = newestAbsoluteTime(checked.value);
    if (newest === null) {
      return refuse(
        "impossible-time",
        "",
        "a bare pack with relative times only cannot be placed; wrap it in an object with received",
      );
    }
    return this.#pack(Math.max(newest, this.#lastReceivedS), checked.value);
  }

  #message(received: number, topicText: string, payload: unknown): ReplayLine {
    const topic = parseNodeTopic(topicText);
    if (!topic.ok) return topic;
    const { site, node, kind } = topic.value;
    if (kind === "samples") {
      const checked = this.#withNode(checkSamplePack(payload, { site, node }));
      return checked.ok ? this.#pack(received, checked.value) : checked;
    }
    if (kind === "reply") return this.#pass(received, []);
    const status = parseDocument<NodeStatus>(statusSchema, payload);
    if (!status.ok) return refuse("bad-status", "", describeFaults(status.faults));
    return this.#pass(received, [statusItem(received, node, status.value)]);
  }

  #pack(received: number, pack: SentPack): ReplayLine {
    const times = checkPackTimes(pack, received);
    if (!times.ok) return times;
    const identity = packIdentity(pack);
    if (identity !== null) {
      const content = `${identity}|${contentHash(JSON.stringify(pack))}`;
      if (this.#seen.has(content)) return { ok: true, items: [] };
      this.#seen.add(content);
    }
    this.#lastReceivedS = received;
    return { ok: true, items: this.#placer.receive(received, pack) };
  }

  #newSetup(received: number, input: unknown): ReplayLine {
    const parsed = parseSetup(input);
    if (!parsed.ok) return parsed;
    this.#setup = parsed.value;
    this.#nodes = nodesOfSetup(parsed.value);
    return this.#pass(received, [{ received, setup: parsed.value }]);
  }

  #pass(received: number, items: ReceivedItem[]): ReplayLine {
    this.#lastReceivedS = received;
    return { ok: true, items: [...this.#placer.expire(received), ...items] };
  }

  /** A pack without a node is the one node's; a pack of a node that is not of this supply is refused. */
  #withNode(checked: MessageResult<SentPack>): MessageResult<SentPack> {
    if (!checked.ok) return checked;
    const pack = checked.value;
    if (pack.node === "") {
      const [only, ...others] = this.#nodes;
      if (others.length > 0) {
        return refuse(
          "base-name-contradicts-topic",
          "",
          "the pack does not say which of the supply's nodes sent it; use <site>/<node>: as base name",
        );
      }
      pack.node = only ?? "node";
      pack.site = this.#setup.stations[0]?.site ?? "";
    }
    if (this.#nodes.size > 0 && !this.#nodes.has(pack.node)) {
      return refuse(
        "base-name-contradicts-topic",
        "",
        `node ${pack.node} belongs to no station of this description (${[...this.#nodes].join(", ")})`,
      );
    }
    return checked;
  }
}

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/** What is wrong with a person's line, in words for a person; null where it can be read. */
function personFault(line: Record<string, unknown>): string | null {
  if (typeof line.received !== "number") {
    return "received is missing: the Unix seconds at which it was said, as a number";
  }
  const unknown = unknownKeys(personEntrySchema, line.person).map(({ path }) => {
    const job = path.startsWith("job.");
    const flow = job && /Lpm$/.test(path);
    const near = nearestKey(path.split(".").at(-1) ?? path, personKeys(path));
    const hint = flow
      ? `flows belong to the procedure of the station's description (procedure.${path.slice(4)})`
      : near === null
        ? `known here: ${personKeys(path).join(", ")}`
        : `did you mean ${near}?`;
    return `person.${path} is not known: ${hint}`;
  });
  if (unknown.length > 0) return unknown.join("; ");
  const parsed = parseDocument(personEntrySchema, line.person);
  if (parsed.ok) return null;
  return parsed.faults
    .map(({ path, message }) =>
      path === "(document)" ? `person ${message}` : `person.${path}: ${message}`,
    )
    .join("; ");
}

/** What may stand in the part of a person's entry that a path leads to. */
function personKeys(path: string): string[] {
  const parts: Record<string, { shape: object }> = {
    swap: swapEntrySchema,
    purge: purgeEntrySchema,
    job: jobEntrySchema,
    leakTest: leakTestEntrySchema,
  };
  const part = path.includes(".") ? parts[path.split(".")[0]!] : undefined;
  return part ? Object.keys(part.shape) : ["reading", ...Object.keys(parts), "undo"];
}

/** Checks a set-up as it stands in a samples file: `{ supply, stations, timeZone }`. */
export function parseSetup(input: unknown): MessageResult<SupplySetup> {
  const parsed = parseDocument(setupSchema, input);
  if (!parsed.ok) return refuse("not-senml", "setup", describeFaults(parsed.faults));
  return { ok: true, value: parsed.value };
}

/** The engine's item of a status message. */
export function statusItem(received: number, node: string, status: NodeStatus): ReceivedItem {
  return {
    received,
    status: {
      node,
      state: status.state,
      boot: status.boot ?? null,
      ...(status.configError === undefined ? {} : { configError: status.configError }),
    },
  };
}
