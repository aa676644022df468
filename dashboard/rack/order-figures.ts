import type { Rack } from "@leeward/shared-core/api/rack.ts";
import { nowS, orderedStations, timeZone } from "../api/store.ts";
import { momentInWords } from "../display/durations.ts";
import { fixed } from "../display/numbers.ts";
import type { Rest } from "../display/page-figures.ts";
import { rackWords as text } from "../language/rack-words.ts";

/** From what the order of a gas is worked out: its stations' next changes, the store and the days. */
export function orderRests(rack: Rack, gas: string): Rest[] {
  const moment = (t: number) => momentInWords(t, nowS.peek(), timeZone.peek());
  const stations = orderedStations
    .peek()
    .filter((view) => view.site === rack.site && view.description.cylinder?.gas === gas)
    .map((view): Rest => {
      const due = view.estimate?.remaining.clockMinutes.median ?? null;
      const when =
        view.estimate && due !== null ? moment(view.estimate.t + due * 60) : text.notKnown;
      return [`${text.changeBy}: ${view.name}`, when];
    });
  const line = rack.reorder.find((one) => one.gas === gas);
  return [
    ...stations,
    [text.inStore, fixed(line?.inStore ?? 0, 0)],
    [text.lead, fixed(rack.leadDays, 0)],
    [text.cover, fixed(rack.coverDays, 0)],
  ];
}
