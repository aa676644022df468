import { join } from "node:path";
import { Level } from "level";
import { expect, it } from "vitest";
import { sessionMemory } from "../../../gateway/broker/session-memory.ts";
import { temporaryFolder } from "../support.ts";

it("a will that is asked for after the database is closed is none; an open one's faults are told", async () => {
  const level = new Level(join(temporaryFolder(), "broker"));
  await level.open();
  const memory = sessionMemory(level);
  expect(await memory.delWill({ id: "n-07" })).toBeUndefined();
  await expect(memory.delWill(null)).rejects.toThrow();
  await level.close();
  expect(await memory.delWill({ id: "n-07" })).toBeUndefined();
});
