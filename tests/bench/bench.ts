import { readdirSync } from "node:fs";
import { fileURLToPath } from "node:url";

/**
 * `npm run bench [name …]`: runs every file beside this one that is called `<name>-bench.ts` and
 * exports `<name>Bench(print)`. Figures depend on the machine and on what else it does.
 */
const folder = fileURLToPath(new URL(".", import.meta.url));
const wanted = process.argv.slice(2);

type Bench = (print: (line: string) => void) => Promise<void> | void;

for (const file of readdirSync(folder).sort()) {
  const match = /^(.+)-bench\.ts$/.exec(file);
  const name = match?.[1];
  if (name === undefined || (wanted.length > 0 && !wanted.includes(name))) continue;
  const module = (await import(new URL(file, import.meta.url).href)) as Record<string, unknown>;
  const bench = Object.entries(module).find(([key]) => key.endsWith("Bench"))?.[1];
  if (typeof bench !== "function") {
    throw new Error(`${file} exports no function whose name ends with Bench`);
  }
  await (bench as Bench)((line) => process.stdout.write(`${line}\n`));
  process.stdout.write("\n");
}
