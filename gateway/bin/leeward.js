#!/usr/bin/env node
// The sources are TypeScript and run as they are; tsx registers the loader first.
import { register } from "tsx/esm/api";

register();
const { runMain } = await import("../cli/main.ts");
await runMain();
