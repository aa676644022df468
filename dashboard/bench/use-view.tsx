import type { StationView } from "@leeward/shared-core/api/stations.ts";
import type { BenchResult } from "@leeward/shared-core/bench/fit-device.ts";
import { useState } from "preact/hooks";
import { type Answer, getStation, putStation } from "../api/client.ts";
import { fixed } from "../display/numbers.ts";
import { benchWords as text } from "../language/bench-words.ts";
import { ProblemNote } from "../shell/problem-note.tsx";

/** Half the 95 % interval of the station's flow, percent; null where no flow is known. */
function halfWidth(view: StationView): number | null {
  const flow = view.estimate?.flow.lpm ? view.estimate.flow : view.estimate?.expected;
  if (!flow?.lpm || flow.low == null || flow.high == null) return null;
  return ((flow.high - flow.low) / 2 / flow.lpm) * 100;
}

/** Writes the fit into the station's description, and says what that did to its interval. */
export function UseView({ view, result }: { view: StationView; result: BenchResult }) {
  const [answer, setAnswer] = useState<Answer<StationView> | null>(null);
  const [before, setBefore] = useState<{ percent: number | null; t: number } | null>(null);
  const use = async () => {
    const fresh = await getStation(view.id);
    if (!fresh.ok) {
      setAnswer(fresh);
      return;
    }
    const { description, version, estimate } = fresh.value;
    if (!description.flowDevice || !result.fit) return;
    setBefore({ percent: halfWidth(fresh.value), t: estimate?.t ?? 0 });
    const flowDevice = { ...description.flowDevice, fit: result.fit };
    setAnswer(await putStation(view.id, { ...description, flowDevice }, version));
  };
  return (
    <section class="card bench-card no-print">
      <h2 class="card-title">{text.use}</h2>
      <p>{result.fit ? text.useNote : text.useNot}</p>
      {result.fit && result.consistent !== true && <p class="caution">{text.useDoubt}</p>}
      {result.fit && (
        <div class="bench-buttons">
          <button
            type="button"
            class="button button-strong button-glove"
            onClick={() => void use()}
          >
            {text.useButton}
          </button>
        </div>
      )}
      {answer?.ok && (
        <div class="noted" role="status" data-field="used">
          <p>{text.used}</p>
          {before && <p>{shrinkage(view, before)}</p>}
        </div>
      )}
      <ProblemNote answer={answer} />
    </section>
  );
}

function shrinkage(view: StationView, before: { percent: number | null; t: number }): string {
  const after = halfWidth(view);
  if (before.percent === null) return text.shrinkUnknown;
  if ((view.estimate?.t ?? 0) <= before.t) return text.shrinkWaiting;
  if (after === null) return text.shrinkUnknown;
  const figures = [fixed(before.percent, 1), fixed(after, 1)] as const;
  return after < before.percent * 0.95 ? text.shrank(...figures) : text.notShrunk(...figures);
}
