#!/usr/bin/env node
// The sources are TypeScript and run as they are; tsx registers the loader first.
import { register } from "tsx/esm/api";

register();
await import("../cli/main.ts");
