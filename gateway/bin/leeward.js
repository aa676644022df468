#!/usr/bin/env node
import { isFresh } from "./built.js";

const dist = new URL("../dist/", import.meta.url);

/** The built program starts in half the time; sources that have changed since run as they are. */
async function loadMain() {
  if (isFresh(dist)) return import(new URL("main.js", dist));
  const { register } = await import("tsx/esm/api");
  register();
  return import("../cli/main.ts");
}

const { runMain } = await loadMain();
await runMain();
