import { fileURLToPath } from "node:url";
import { buildProgram } from "./build-program.ts";

const beganMs = Date.now();
const sources = await buildProgram(fileURLToPath(new URL("..", import.meta.url)));
console.log(`gateway: ${sources} sources in ${Date.now() - beganMs} ms`);
