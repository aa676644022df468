import type { FlowSample } from "@leeward/shared-core/record/shielding.ts";
import type { Kysely } from "kysely";
import type { Database } from "./tables.ts";

/** Every kept line of a station's flow from `from` up to `to`, rising; those without bounds are left out. */
export async function readFlow(
  db: Kysely<Database>,
  owner: string,
  from: number,
  to: number,
): Promise<FlowSample[]> {
  const series = async (name: string) => {
    const found = await db
      .selectFrom("series")
      .select("id")
      .where("owner", "=", owner)
      .where("name", "=", name)
      .executeTakeFirst();
    if (!found) return [];
    return db
      .selectFrom("samples")
      .select(["t", "value"])
      .where("series_id", "=", found.id)
      .where("t", ">=", from)
      .where("t", "<", to)
      .orderBy("t")
      .execute();
  };
  const byTime = (rows: { t: number; value: number }[]) =>
    new Map(rows.map((row) => [row.t, row.value]));
  const low = byTime(await series("flow-low"));
  const high = byTime(await series("flow-high"));
  return (await series("flow")).flatMap(({ t, value }) => {
    const [least, most] = [low.get(t), high.get(t)];
    return least === undefined || most === undefined
      ? []
      : [{ t, lpm: value, low: least, high: most }];
  });
}
