import persistence from "aedes-persistence-level";
import type { Level } from "level";

/**
 * What the broker remembers of its sessions, in an open database.
 *
 * A session that is still logging in when the broker stops goes on to its will after the database is
 * closed. The broker leaves that error to nobody, which would end the process: there is no will then.
 */
export function sessionMemory(level: Level): ReturnType<typeof persistence> {
  const memory = persistence(level);
  const forget = memory.delWill.bind(memory);
  memory.delWill = async (client) => {
    try {
      return await forget(client);
    } catch (error) {
      if (level.status === "open") throw error;
      return undefined;
    }
  };
  return memory;
}
