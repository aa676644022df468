import uPlot from "uplot";

/** Zones change their clocks on quarters of an hour. */
const QUARTER_S = 900;

const offsets = new Map<string, number>();

/**
 * A date whose local getters tell the zone's time, as uPlot wants it. The zone's offset is asked for
 * once a quarter of an hour: asking takes longer than drawing a panel.
 */
export function zoneDate(t: number, zone: string): Date {
  const quarter = Math.floor(t / QUARTER_S);
  const key = `${zone} ${quarter}`;
  let offset = offsets.get(key);
  if (offset === undefined) {
    const start = new Date(quarter * QUARTER_S * 1000);
    offset = uPlot.tzDate(start, zone).getTime() - start.getTime();
    if (offsets.size > 5000) offsets.clear();
    offsets.set(key, offset);
  }
  return new Date(t * 1000 + offset);
}
