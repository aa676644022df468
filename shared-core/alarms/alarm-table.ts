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
  return [preface, overview(conditions), ...conditions.map(section)].join("\n");
}
