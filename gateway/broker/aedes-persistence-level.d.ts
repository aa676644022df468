declare module "aedes-persistence-level" {
  import type { Level } from "level";
  /** Makes the broker's memory from an open database; the broker knows what it is. */
  export default function persistence(level: Level): {
    /** Deletes the kept will of a client; answers it where there was one. */
    delWill(client: unknown): Promise<unknown>;
  };
}
