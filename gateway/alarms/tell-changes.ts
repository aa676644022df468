import type { LiveBus } from "../live/bus.ts";
import type { LineSink } from "../live/line-sink.ts";
import type { OccurrenceView } from "./open-alarms.ts";
import { alarmView } from "./views.ts";

/** Tells every open browser what people and the life cycle did to alarms, one event a station. */
export function tellChanges(
  bus: LiveBus,
  sink: Pick<LineSink, "latest">,
  changed: readonly OccurrenceView[],
  nowS: number,
): void {
  const places = new Map<string | null, OccurrenceView[]>();
  for (const occurrence of changed) {
    const { site, station } = occurrence;
    const id = station === null ? null : `${site}.${station}`;
    places.set(id, [...(places.get(id) ?? []), occurrence]);
  }
  for (const [id, occurrences] of places) {
    const alarms = id === null ? [] : (sink.latest(id)?.alarms ?? []);
    bus.emit("alarm", { id, now: nowS, alarms, changed: occurrences.map(alarmView) });
  }
}
