import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { expect, test } from "vitest";
import { openSqliteStore } from "../../../gateway/store/open-sqlite.ts";
import { quickFolder, whenOver } from "../support.ts";
import { until } from "./notify-bench.ts";
import { mailHeader, startMailServer } from "./receivers.ts";

const script = fileURLToPath(new URL("crash-child.ts", import.meta.url));

/** Starts alarms and delivery in a process of their own; resolves once its alarm is stored. */
async function startChild(file: string, port: number, ...words: string[]): Promise<ChildProcess> {
  const child = spawn(process.execPath, ["--import", "tsx", script, file, String(port), ...words], {
    stdio: ["ignore", "pipe", "inherit"],
  });
  whenOver(() => child.kill("SIGKILL"));
  await once(child.stdout!, "data");
  return child;
}

async function kill(child: ChildProcess): Promise<void> {
  const gone = once(child, "exit");
  child.kill("SIGKILL");
  await gone;
}

async function states(file: string) {
  const store = await openSqliteStore(file);
  const rows = await store.outbox.list({ limit: 10 });
  await store.close();
  return rows.map((row) => [row.state, row.attempts]);
}

test("killed between alarm and delivery: it arrives, once", async () => {
  const mail = await startMailServer();
  const file = join(quickFolder(), "store.sqlite");
  await kill(await startChild(file, mail.port, "ring", "no-delivery"));
  expect(mail.count()).toBe(0);
  const second = await startChild(file, mail.port);
  const text = await until(() => mail.mails[0], 15_000);
  expect(mailHeader(text, "Subject")).toBe("bay-3: STOP: welding without gas. Stop the arc.");
  await until(async () => (await states(file))[0]?.[0] === "delivered");
  await kill(second);
  expect(mail.count()).toBe(1);
  expect(await states(file)).toEqual([["delivered", 1]]);
});

test("killed while the mail server has it and has not answered: once more, marked as a repeat", async () => {
  const texts: string[] = [];
  const mail = await startMailServer(async (text, count) => {
    texts.push(text);
    // The first is taken, but the sender dies before it hears so.
    if (count === 1) await new Promise((resolve) => setTimeout(resolve, 60_000).unref());
    return 250;
  });
  const file = join(quickFolder(), "store.sqlite");
  const first = await startChild(file, mail.port, "ring");
  await until(() => texts.length === 1, 15_000);
  await kill(first);
  const second = await startChild(file, mail.port);
  await until(() => mail.mails[0], 15_000);
  await until(async () => (await states(file))[0]?.[0] === "delivered");
  await kill(second);
  expect(texts).toHaveLength(2);
  expect(mailHeader(texts[0]!, "Subject")).not.toContain("(repeat)");
  expect(mailHeader(texts[1]!, "Subject")).toContain("(repeat)");
  expect(mailHeader(texts[1]!, "X-Leeward-Repeat")).toBe("1");
  expect(mailHeader(texts[1]!, "Message-ID")).toBe(mailHeader(texts[0]!, "Message-ID"));
  expect(await states(file)).toEqual([["delivered", 2]]);
});

test("killed at any moment after the alarm it arrives, at most once more", async () => {
  const mail = await startMailServer();
  const file = join(quickFolder(), "store.sqlite");
  let child = await startChild(file, mail.port, "ring");
  for (const waitMs of [0, 15, 40]) {
    await new Promise((resolve) => setTimeout(resolve, waitMs));
    await kill(child);
    child = await startChild(file, mail.port);
  }
  await until(async () => (await states(file))[0]?.[0] === "delivered", 15_000);
  await kill(child);
  expect(mail.mails.length).toBeGreaterThanOrEqual(1);
  const ids = new Set(mail.mails.map((text) => mailHeader(text, "Message-ID")));
  expect(ids.size).toBe(1);
  expect(mail.mails.slice(1).every((text) => mailHeader(text, "X-Leeward-Repeat") === "1")).toBe(
    true,
  );
}, 60_000);
