import type { AlarmCondition } from "./condition.ts";
import { alarmConditions } from "./index.ts";

const preface = `# Alarms

Written from the code by \`npx tsx gateway/alarms/write-alarm-table.ts\`; do not edit by hand.

An alarm tells a person something that this person can act on. Each condition below has one file in
\`shared-core/alarms/\`; its deadband and delays run there, so that a replay shows the same alarms as
the live shop. "Suppresses" names what it explains: those stay silent while it stands. A condition
that cannot be judged, because a reading is missing or in doubt, is never taken as normal: an alarm
that stands keeps standing. States and words follow IEC 62682 and ISA-18.2.

Leeward is no oxygen or CO2 monitor and no safety device. Follow your local rules, the supplier's
safety data and the makers' instructions; they come before anything written here.
`;

const measured = `## How soon, and what delays it

\`npm run accuracy -- --only alarms\` prints the aims with what is measured; simulated, 20 seeds.

- Welding without gas, arc to line, with the node's real firmware and a line a second, 8 plants each: torch
  valve shut from the start, or line bled, 1.3 to 1.5 s. Gas that stops under a burning arc, from when less
  than a quarter of the least leaves the torch: cylinder closed 0.9 to 1.2 s (from the hand on the valve it
  takes 30 s, while the gas between valve and seat flows on); regulator that gives nothing more 0.7 to 1.5 s,
  at 14 L/min 0.8 to 1.9 s; at a tap on the hose a gas valve that shuts 1.4 to 1.6 s, a hose that comes off 0.9
  to 1.1 s. A gas valve that shuts at the end of a hose with the tap before the restriction: 3.3 to 3.8 s, at
  14 L/min 2.1 to 2.7 s, a missed aim: the regulator goes on filling 4 m of 6 mm for some 4 s and 2.5 s, the line
  begins to rise after 1 and 0.6 s, and half of its way, up to which it may be a float turned to half, comes
  after 3.1 and 1.8 s. There a hose that comes off is not seen at all: the restriction passes as much as before.
- The same through an hour of seams and tacks at each of 6 plants, gas 1 s before to 0.5 s after the arc: never
  rung; nor with a regulator whose pressure swings by 0.05 bar to either side within 8 or 30 s, nor with a
  float turned to half. With 0.1 bar to either side within 8 s (twice that is near half of what the line rises
  by at gas-off) one plant of 6 rings wrongly.
- Flow 20 % under the least by a lower line pressure, station learnt for an hour: within 20 s of
  gas-on in 20 of 20 (median 7 s, at most 8 s).
- The same after five minutes of use: where somebody told the float's reading, within 60 s in 20 of
  20 (at most 26 s; the float itself errs by 7 %, 1 sigma). Where nobody told anything, in 17 of 20:
  the cylinder has then lost half a bar, which the slow errors of its sensor and the heat between gas
  and wall blur. At the others the flow that is believed is 12 % and more too large, which its 95 %
  interval holds, and 20 % under the least cannot be told from enough until the interval has narrowed
  (233, 244 and 245 s). That this is the least that the sensors allow is not proved: it is a missed aim.
- The same by a turned needle: within 60 s in 19 of 20 (median 10 s, the other 69 s), behind a
  bench-tested regulator within 20 s in 20 of 20 (at most 19 s). The line shows a turn only by the
  regulator's droop, of which the share that is lock-up is not known at first; where that leaves the
  interval across the least, the cylinder's fall has to decide.
`;

function seconds(delay: number): string {
  return delay === 0 ? "none" : delay < 120 ? `${delay} s` : `${delay / 60} min`;
}

function section(condition: AlarmCondition): string {
  const rows: [string, string][] = [
    ["Limit", condition.limit],
    ["Cause", condition.cause],
    ["Consequence", condition.consequence],
    ["What to do", condition.operatorAction],
    ["Time to respond", condition.timeToRespond],
    ["Priority", condition.priority],
    ["Class", condition.alarmClass],
    ["Belongs to", condition.scope],
    ["Deadband", condition.deadband],
    ["On-delay", seconds(condition.onDelayS)],
    ["Off-delay", seconds(condition.offDelayS)],
    ["Why these delays", condition.delayReason],
    ["Latched", condition.latched ? "yes: a person must look and acknowledge" : "no"],
    ["Suppresses", condition.suppresses.map((id) => `\`${id}\``).join(", ") || "nothing"],
  ];
  const table = rows.map(([name, text]) => `| ${name} | ${text.replaceAll("|", "\\|")} |`);
  return `## ${condition.title} (\`${condition.condition}\`)\n\n| | |\n|---|---|\n${table.join("\n")}\n`;
}

function overview(conditions: readonly AlarmCondition[]): string {
  const rows = conditions.map(
    (condition) =>
      `| \`${condition.condition}\` | ${condition.title} | ${condition.priority} | ${condition.timeToRespond} |`,
  );
  return `## All alarms\n\n| id | | priority | time to respond |\n|---|---|---|---|\n${rows.join("\n")}\n`;
}

/** The text of docs/alarms.md: every condition with its rationalization, as Markdown. */
export function alarmTable(conditions: readonly AlarmCondition[] = alarmConditions): string {
  return [preface, overview(conditions), ...conditions.map(section), measured].join("\n");
}
