/** Boot number: counted up on flash; a random 31-bit number where nothing was kept. */
import type { Ports } from "./ports.ts";

const highest = 2147483647;

type FileWriter = Pick<Ports, "writeFile" | "renameFile">;

/** Writes a small file so that a power cut leaves either the old content or the new one. */
export function writeSafely(ports: FileWriter, name: string, content: string): boolean {
  if (!ports.writeFile("safe.new", content)) return false;
  return ports.renameFile("safe.new", name);
}

/** This start's boot number, 1 … 2147483647, written down at once. */
export function countBoot(ports: Ports): number {
  if (!ports.hasFlash) return ports.random;
  const [digits] = string.match(ports.readFile("boot") ?? "", "^(%d+)$");
  const last = digits === undefined || digits.length > 10 ? undefined : tonumber(digits);
  let boot = ports.random;
  if (last !== undefined && last > 0 && last < highest) boot = last + 1;
  // A number that cannot be written down might come twice: then chance is the better choice.
  return writeSafely(ports, "boot", string.format("%d", boot)) ? boot : ports.random;
}
