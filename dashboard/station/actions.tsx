import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { useState } from "preact/hooks";
import { readingWords } from "../display/device-words.ts";
import type { UnitChoice } from "../display/units.ts";
import { words } from "../language/words.ts";
import { lazyPage } from "../shell/lazy-page.tsx";
import { JobDialog } from "./job-dialog.tsx";
import { LastDialog } from "./last-dialog.tsx";
import { PurgeDialog } from "./purge-dialog.tsx";
import { ReadingDialog } from "./reading-dialog.tsx";
import { SwapDialog } from "./swap-dialog.tsx";

type Open = "swap" | "reading" | "last" | "purge" | "job" | "leakTest";

const LeakTestDialog = lazyPage(() =>
  import("./leak-test-dialog.tsx").then(({ LeakTestDialog }) => LeakTestDialog),
);

/** What a welder tells Leeward, or asks it: large enough for gloves, in plain sight. */
export function Actions({ view, units }: { view: StationView; units: UnitChoice }) {
  const [open, setOpen] = useState<Open | null>(null);
  const text = words.actions;
  const device = view.description.flowDevice;
  const close = () => setOpen(null);
  // The one that runs stands on top, with the way to end it.
  const testing = /^(settling|running)$/.test(view.estimate?.leak.test?.phase ?? "");
  return (
    <section class="actions" aria-label={text.title}>
      <button type="button" class="button button-glove" onClick={() => setOpen("last")}>
        {text.last}
      </button>
      {device && (
        <button type="button" class="button button-glove" onClick={() => setOpen("reading")}>
          {readingWords(device).tell}
        </button>
      )}
      <button type="button" class="button button-glove" onClick={() => setOpen("swap")}>
        {text.swap}
      </button>
      <button type="button" class="button button-glove" onClick={() => setOpen("job")}>
        {text.job}
      </button>
      <button type="button" class="button button-glove" onClick={() => setOpen("purge")}>
        {text.purge}
      </button>
      {!testing && (
        <button type="button" class="button button-glove" onClick={() => setOpen("leakTest")}>
          {text.leakTest}
        </button>
      )}
      {open === "swap" && <SwapDialog view={view} onClose={close} />}
      {open === "reading" && <ReadingDialog view={view} units={units} onClose={close} />}
      {open === "last" && <LastDialog view={view} units={units} onClose={close} />}
      {open === "purge" && <PurgeDialog view={view} onClose={close} />}
      {open === "job" && <JobDialog view={view} onClose={close} />}
      {open === "leakTest" && <LeakTestDialog view={view} units={units} onClose={close} />}
    </section>
  );
}
