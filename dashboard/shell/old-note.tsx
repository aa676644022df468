import { nowS, timeZone } from "../api/store.ts";
import { ageInWords, momentInWords } from "../display/durations.ts";
import { words } from "../language/words.ts";

/** That what stands below is of an earlier time: of when, and how long ago. Its age grows: not read out. */
export function OldNote({ cameS }: { cameS: number | null }) {
  if (cameS === null) return null;
  // Both by this device: the gateway's clock is out of reach.
  const wallS = Date.now() / 1000;
  // Read, so that the age goes on.
  void nowS.value;
  return (
    <p class="caution" data-field="old-page">
      {words.state.oldPage(
        momentInWords(cameS, wallS, timeZone.value),
        ageInWords(Math.max(0, wallS - cameS)),
      )}
    </p>
  );
}
