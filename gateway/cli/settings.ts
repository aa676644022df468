import { settingsDocument } from "../settings/document.ts";
import type { CommandIo } from "./io.ts";

/** `leeward settings`: prints docs/settings.md. */
export function runSettings(_args: string[], io: CommandIo): Promise<number> {
  io.out(settingsDocument());
  return Promise.resolve(0);
}
