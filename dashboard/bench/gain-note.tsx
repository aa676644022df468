import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { fitGain } from "@leeward/shared-core/estimation/fit-prior.ts";
import { fixed } from "../display/numbers.ts";
import { benchWords as text } from "../language/bench-words.ts";
import { Explained } from "../shell/explain.tsx";

/** What a bench test in the station's description does for its flow now; nothing where there is none. */
export function GainNote({ view }: { view: StationView }) {
  const { description, estimate } = view;
  const flow = estimate?.flow.lpm ? estimate.flow : estimate?.expected;
  if (!description.flowDevice?.fit || !flow?.lpm || description.supply) return null;
  const gain = fitGain({ supply: null, stations: [description] }, description.station, flow);
  if (!gain || flow.low == null || flow.high == null) return null;
  const half = (low: number, high: number) => fixed(((high - low) / 2 / (flow.lpm ?? 1)) * 100, 1);
  return (
    <p class="noted" data-field="gain">
      <Explained figure="fit-gain" label={text.use}>
        {text.gain(half(gain.low, gain.high), half(flow.low, flow.high))}
      </Explained>
    </p>
  );
}
