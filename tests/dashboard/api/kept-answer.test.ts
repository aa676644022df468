import { expect, test } from "vitest";
import type { Answer } from "../../../dashboard/api/client.ts";
import {
  afterAnswer,
  type KeptAnswer,
  nothingKept,
  withRecalled,
} from "../../../dashboard/api/kept-answer.ts";

const gone: Answer<string> = { ok: false, offline: true, asked: true, status: 0, problem: null };
const isText = (value: unknown): value is string => typeof value === "string";
const start: KeptAnswer<string> = nothingKept;

test("what came is fresh; what stays while no answer comes is old, with its own time", () => {
  const fresh = afterAnswer(start, { ok: true, value: "a" }, 100);
  expect(fresh).toMatchObject({ value: "a", cameS: 100, old: false });
  const old = afterAnswer(fresh, gone, 160);
  expect(old).toMatchObject({ value: "a", cameS: 100, old: true });
  expect(afterAnswer(old, { ok: true, value: "b" }, 170)).toMatchObject({ value: "b", old: false });
});

test("what the device kept is shown only while no answer comes, and as old", () => {
  const kept = { value: "a", keptS: 40 };
  expect(withRecalled(start, kept, isText).value).toBeNull();
  const failed = afterAnswer(start, gone, 100);
  expect(withRecalled(failed, kept, isText)).toMatchObject({ value: "a", cameS: 40, old: true });
  const newer = afterAnswer(afterAnswer(start, { ok: true, value: "b" }, 90), gone, 100);
  expect(withRecalled(newer, kept, isText)).toMatchObject({ value: "b", cameS: 90 });
});

test("what an older program kept in another shape is not shown", () => {
  const failed = afterAnswer(start, gone, 100);
  expect(withRecalled(failed, { value: { a: 1 }, keptS: 40 }, isText).value).toBeNull();
  expect(withRecalled(failed, null, isText).value).toBeNull();
});
