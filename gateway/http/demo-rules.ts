import type { DocumentFault } from "@leeward/shared-core/documents/parse.ts";
import type { StationDocument } from "@leeward/shared-core/documents/station.ts";

/**
 * What stands against a description because of the demo, whose stations and past are deleted when
 * it ends: nothing of a real shop may go with them, and nothing invented may stay as real.
 *
 * @param before the station as it is stored; null for a new one
 * @param speed clock seconds per wall second
 */
export function demoFaults(
  document: StationDocument,
  before: StationDocument | null,
  speed: number,
): DocumentFault[] {
  if (document.virtual !== true) {
    const faults: DocumentFault[] = [];
    if (before?.virtual === true) {
      const message =
        "this station is the demo's, and its past is invented: set up a station of your own under another name";
      faults.push({ path: "virtual", message });
    }
    if (speed !== 1) {
      const message =
        "the demo's clock does not run with the wall clock: start without --demo-speed to set up a station of your own";
      faults.push({ path: "station", message });
    }
    return faults;
  }
  if (before?.virtual !== true) {
    const message = "only the demo makes virtual stations: leave it out";
    return [{ path: "virtual", message }];
  }
  if ((document.node ?? null) === (before.node ?? null)) return [];
  const message =
    "is of the demo, which is deleted when it ends: set up a station of your own for this node";
  return [{ path: "node", message }];
}
