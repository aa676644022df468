import type { LookBack as Report } from "@leeward/shared-core/api/look-back.ts";
import type { History } from "@leeward/shared-core/api/stations.ts";
import { useEffect, useRef } from "preact/hooks";
import { timeZone } from "../api/store.ts";
import { lookBackWords as text } from "../language/look-back-words.ts";
import { theme, units } from "../settings/settings.ts";
import { createLookBackChart } from "./look-back-chart.ts";

/** The picture: flow against its window, cylinder pressure, regulator temperature. */
export function ChartCard({ report, history }: { report: Report; history: History | null }) {
  const host = useRef<HTMLDivElement>(null);
  const chosen = units.value;
  useEffect(() => {
    const element = host.current;
    if (!element || !history) return;
    const chart = createLookBackChart(element, {
      report,
      history,
      units: chosen,
      zone: timeZone.peek(),
    });
    // Paper is light, whatever the screen.
    const root = document.documentElement;
    const before = root.dataset.theme;
    const toPaper = () => {
      root.dataset.theme = "light";
      chart.fit(PAPER_WIDTH_PX, PAPER_SHARE);
    };
    const toScreen = () => {
      if (before === undefined) delete root.dataset.theme;
      else root.dataset.theme = before;
      chart.fit(element.clientWidth);
    };
    addEventListener("beforeprint", toPaper);
    addEventListener("afterprint", toScreen);
    return () => {
      removeEventListener("beforeprint", toPaper);
      removeEventListener("afterprint", toScreen);
      chart.destroy();
    };
  }, [history, chosen, theme.value]);
  const empty = history !== null && (history.series.flow?.t.length ?? 0) === 0;
  return (
    <section class="card look-chart-card" aria-labelledby="chart-title">
      <h3 id="chart-title">{text.chart.title}</h3>
      <div ref={host} class="look-chart" role="img" aria-label={text.chart.describe} />
      <p class="card-small">{empty ? text.chart.empty : text.chart.legend}</p>
    </section>
  );
}

/** Width of an A4 or Letter sheet within its margins, at 96 px an inch. */
const PAPER_WIDTH_PX = 680;
const PAPER_SHARE = 0.65;
