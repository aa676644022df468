import { expect, it } from "vitest";
import { cleanUp, whenOver } from "./when-over.ts";

it("puts away all that a test began, also after a step that fails, which is told", async () => {
  const done: string[] = [];
  whenOver(() => done.push("first"));
  whenOver(() => {
    throw new Error("stuck");
  });
  whenOver(() => done.push("last"));
  await expect(cleanUp()).rejects.toThrow("stuck");
  expect(done).toEqual(["last", "first"]);
});
