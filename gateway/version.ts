import { readFileSync } from "node:fs";

const file = new URL("./package.json", import.meta.url);

/** Version of the gateway, as in its package. */
export const leewardVersion = (JSON.parse(readFileSync(file, "utf8")) as { version: string })
  .version;
