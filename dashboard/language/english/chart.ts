import { pluralsOf } from "../plural.ts";

const plural = pluralsOf("en");

/** History charts. */
export const chart = {
  chart: {
    title: "History",
    span: "Span",
    spans: { "1h": "1 hour", "8h": "8 hours", "1d": "1 day", "1w": "1 week", "1y": "1 year" },
    flow: "Flow",
    cylinder: "Cylinder pressure",
    line: "Line pressure",
    lineNames: { flow: "true", indicated: "device", cylinder: "cylinder", line: "line" },
    loading: "Fetching …",
    failed: "The history could not be fetched.",
    empty: "Nothing was recorded in this span.",
    gaps: (n: number) =>
      n === 0 ? "" : plural(n, { one: `${n} gap in the data.`, other: `${n} gaps in the data.` }),
    highest: "Where gas went off within a step, the highest flow of that step is drawn.",
    describe: (from: string, to: string) =>
      `Chart of flow and pressures, ${from} to ${to}. Arrow keys move it, plus and minus change how much it shows, End leads to now.`,
    earlier: "Earlier",
    later: "Later",
    closer: "Closer",
    wider: "Wider",
    now: "Now",
    move: "Move the chart",
    between: (from: string, to: string) => `${from} to ${to}`,
    needed: "needed",
    needNote: "The band is what the present weld needs.",
    envelope: "The shaded edge spans lowest and highest of each step.",
    also: (titles: string) => `; ${titles}`,
    at: (time: string) => `at ${time}`,
    none: "no data",
    off: "off",
  },
};
