declare module "aedes-persistence-level" {
  import type { Level } from "level";
  /** Makes the broker's memory from an open database; the broker knows what it is. */
  export default function persistence(level: Level): object;
}
