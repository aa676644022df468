import type { StationView } from "@leeward/shared-core/api/stations.ts";
import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import type { SafetyReport } from "@leeward/shared-core/safety/finding.ts";
import { setupWords } from "../language/setup-words.ts";
import { type Step, stepOfPath } from "./checks.ts";
import { type FormPart, Group } from "./inputs.tsx";
import { SafetyNote } from "./safety-note.tsx";
import { ToMend } from "./to-mend.tsx";

/** What is to be mended before a shared supply can be saved, and what is left. */
export function SupplyCheck(props: {
  part: FormPart;
  drops: readonly StationView[];
  atDrops: readonly { name: string; report: SafetyReport }[];
  together: readonly StationDocument[];
  titles: Readonly<Partial<Record<Step, string>>>;
}) {
  const text = setupWords.supply;
  const { part, drops, atDrops, together, titles } = props;
  const { checked, units, goTo } = part;
  const mend = [
    ...new Set<Step>([
      ...(drops.length === 0 ? (["node"] as const) : []),
      ...checked.faults.map(({ step }) => step),
      ...checked.refusals.map(({ path }) => stepOfPath(path)),
    ]),
  ];
  const gaps = checked.gaps.filter((gap) =>
    ["node", "cylinder-sensor", "cylinder-proof", "regulator"].includes(gap),
  );
  return (
    <>
      <SafetyNote refusals={checked.refusals} cautions={checked.cautions} units={units} />
      {atDrops.map(
        ({ name, report }) =>
          report.refusals.length + report.cautions.length > 0 && (
            <section key={name} aria-label={name}>
              <h3>{name}</h3>
              <SafetyNote refusals={report.refusals} cautions={report.cautions} units={units} />
            </section>
          ),
      )}
      <ToMend mend={mend} checked={checked} titles={titles} goTo={goTo} />
      {together.length > 0 && (
        <p class="caution" data-field="together">
          {text.together(together.map(({ name, station }) => name ?? station).join(", "))}
        </p>
      )}
      {mend.length === 0 && (
        <Group>
          <p>{text.summary(drops.map(({ name }) => name).join(", "))}</p>
          {gaps.length === 0 ? (
            <p data-field="all-said">{setupWords.check.allSaid}</p>
          ) : (
            <div data-field="gaps">
              <strong>{setupWords.check.left}</strong>
              <ul class="causes">
                {gaps.map((gap) => (
                  <li key={gap}>{setupWords.gaps[gap]}</li>
                ))}
              </ul>
            </div>
          )}
          <p class="quiet">{text.blind}</p>
        </Group>
      )}
    </>
  );
}
