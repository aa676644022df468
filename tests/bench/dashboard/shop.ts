import { readdirSync } from "node:fs";
import { join } from "node:path";
import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { connectAsync } from "mqtt";
import { openSqliteStore } from "../../../gateway/store/open-sqlite.ts";
import { getList, type RunningGateway, sleep } from "../../dashboard/browser/gateway-process.ts";

export const site = "boatyard";
export const yearStation = `${site}.year-1`;
const yearNode = "y-1";
const dayS = 86_400;

/** The last weeks are told as finely as minutes are kept, the rest by ten minutes. */
const fineDays = 45;

/** A year of one station, welding by day. */
export async function fillYear(data: string): Promise<void> {
  const file = readdirSync(data).find((name) => name.endsWith(".sqlite")) ?? "leeward.sqlite";
  const store = await openSqliteStore(join(data, file));
  const nowS = Math.floor(Date.now() / 1000);
  for (let day = 366; day > 0; day--) {
    const values: { owner: string; name: string; t: number; value: number }[] = [];
    for (let s = 0; s < dayS; s += day > fineDays ? 600 : 120) {
      const t = nowS - day * dayS + s;
      const work = (t % dayS) / dayS;
      const on = work > 0.3 && work < 0.7 && s % 1800 < 600;
      const left = 1 - ((day * 7 + work) % 20) / 21;
      const flow = on ? 9 - 1.5 * (1 - left) + 0.3 * Math.sin(t) : 0;
      const node = `node:${site}/${yearNode}`;
      const station = `station:${yearStation}`;
      const add = (owner: string, name: string, value: number) =>
        values.push({ owner, name, t, value });
      add(node, "cylinder-pressure", 2e7 * left);
      add(node, "line-pressure", on ? 3.4e5 : 3.5e5);
      add(node, "cylinder-temperature", 15 + 8 * Math.sin(t / 1e6));
      add(node, "regulator-temperature", 14 + 8 * Math.sin(t / 1e6));
      add(station, "flow", flow);
      add(station, "flow-low", flow * 0.97);
      add(station, "flow-high", flow * 1.03);
      add(station, "indicated", flow * 1.1);
      add(station, "content", 10_000 * left);
    }
    await store.write({ values });
  }
  await store.close();
}

/** Describes stations until there are `count`, each with a node of its own; gives their nodes. */
export async function describeStations(gateway: RunningGateway, count: number): Promise<string[]> {
  const views = (await getList(gateway.url)).stations;
  const model = views.find((view) => view.estimate?.measured?.linePa != null);
  if (!model) throw new Error("the virtual shop has no station with a line sensor");
  const nodes: string[] = [];
  await put(gateway, model, "year-1", yearNode, "Year");
  for (let k = views.length + 1; k < count; k++) {
    nodes.push(`b-${k}`);
    await put(gateway, model, `bay-${k}`, `b-${k}`, `Bay ${k}`);
  }
  return [yearNode, ...nodes];
}

async function put(
  gateway: RunningGateway,
  model: StationView,
  station: string,
  node: string,
  name: string,
): Promise<void> {
  const { virtual: _virtual, ...rest } = model.description;
  const response = await fetch(`${gateway.url}/api/v1/stations/${site}.${station}`, {
    method: "PUT",
    headers: { "content-type": "application/json", "if-none-match": "*" },
    body: JSON.stringify({ ...rest, station, node, name }),
  });
  if (!response.ok) throw new Error(`PUT ${station}: ${response.status} ${await response.text()}`);
}

/** Every node weld: a pack of two seconds, all the time. Returns what stops them. */
export async function weld(
  gateway: RunningGateway,
  nodes: readonly string[],
): Promise<() => Promise<void>> {
  const client = await connectAsync(gateway.brokerUrl);
  let round = 0;
  let stopped = false;
  const run = async () => {
    while (!stopped) {
      const began = Date.now();
      round++;
      for (const [index, node] of nodes.entries()) {
        if (stopped) return;
        const endS = Date.now() / 1000;
        const sample = (n: string, u: string, v: number, t: number) => ({ n, u, v, t });
        const cylinder = 15e6 - round * 900 - index * 2e4;
        const line = 3.4e5 + 2000 * Math.sin(round / 5 + index);
        const pack = [
          { bn: `${site}/${node}:`, bt: endS, n: "boot", v: 1 },
          { n: "seq", v: round },
          ...[-1, 0].flatMap((t) => [
            sample("cylinder-pressure", "Pa", cylinder, t),
            sample("line-pressure", "Pa", line, t),
          ]),
          sample("cylinder-temperature", "Cel", 17.2, 0),
        ];
        client.publish(`leeward/v1/${site}/${node}/samples`, JSON.stringify(pack), { qos: 1 });
        // Spread over the two seconds, as two hundred nodes are.
        const due = began + (2000 * (index + 1)) / nodes.length;
        if (due > Date.now() + 4) await sleep(due - Date.now());
      }
      await sleep(Math.max(0, began + 2000 - Date.now()));
    }
  };
  const running = run();
  return async () => {
    stopped = true;
    await running;
    await client.endAsync(true);
  };
}

/** Waits until so many stations have a fresh estimate. */
export async function waitLive(gateway: RunningGateway, count: number): Promise<void> {
  const until = Date.now() + 120_000;
  let live = 0;
  while (Date.now() < until) {
    const list = await getList(gateway.url);
    live = list.stations.filter((view) => view.estimate && list.now - view.estimate.t < 10).length;
    if (live >= count) return;
    await sleep(1000);
  }
  throw new Error(`only ${live} of ${count} stations became live`);
}
