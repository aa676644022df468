import { type Demand, demand, type GasTime } from "@leeward/shared-core/demand/index.ts";
import type { ProcedureDocument } from "@leeward/shared-core/documents/procedure.ts";
import type { Composition } from "@leeward/shared-core/gases/composition.ts";
import { flowsInRule } from "../display/flows-in-text.ts";
import { DASH, fixed, flowFigure } from "../display/numbers.ts";
import { benchWords as text } from "../language/bench-words.ts";
import { coreText } from "../language/core-words.ts";
import { units } from "../settings/settings.ts";
import { Explained } from "../shell/explain.tsx";

/** Why a weld needs the flow it needs: every source, where they disagree, times and remarks. */
export function DemandView(props: { procedure: ProcedureDocument; composition: Composition }) {
  const found = demand(props.procedure, props.composition);
  const { reasons, remarks, nozzle } = found;
  return (
    <details class="bench-why" data-field="why">
      <summary>{text.whyWindow}</summary>
      <Disagreement found={found} />
      <ul class="causes">
        {[...reasons, ...found.preflow.reasons, ...found.postflow.reasons].map((reason) => (
          <li key={reason.text}>{flowsInRule(coreText(reason.text), units.value)}</li>
        ))}
        {remarks.map((remark) => (
          <li key={remark}>{flowsInRule(coreText(remark), units.value)}</li>
        ))}
      </ul>
      <dl class="bench-figures">
        <Time label={text.weld.preflow} time={found.preflow} />
        <Time label={text.weld.postflow} time={found.postflow} />
        {nozzle && (
          <div>
            <dt>{text.weld.exit(fixed(nozzle.boreMm, 1))}</dt>
            <dd>
              <Explained figure="weld-exit" label={text.weld.exit(fixed(nozzle.boreMm, 1))}>
                {fixed(nozzle.exitVelocityMs, 1)} <small>m/s</small>
              </Explained>
            </dd>
          </div>
        )}
        {nozzle && (
          <div>
            <dt>{text.weld.reynolds}</dt>
            <dd>
              <Explained figure="weld-reynolds" label={text.weld.reynolds}>
                {fixed(nozzle.reynolds, 0)}
              </Explained>
            </dd>
          </div>
        )}
      </dl>
    </details>
  );
}

function Disagreement({ found }: { found: Demand }) {
  const { spread } = found;
  if (!spread || spread.sources.length < 2) return null;
  const chosen = units.value;
  return (
    <p>
      {text.weld.spread(
        flowFigure(spread.lowLpm, chosen),
        flowFigure(spread.highLpm, chosen),
        chosen.flow,
      )}{" "}
      {spread.sources.map(coreText).join("; ")}
    </p>
  );
}

function Time({ label, time }: { label: string; time: GasTime }) {
  return (
    <div>
      <dt>{label}</dt>
      <dd>
        <Explained figure="weld-time" label={label}>
          {time.targetS === null ? DASH : fixed(time.targetS, time.targetS < 10 ? 1 : 0)}{" "}
          <small>
            s
            {time.lowS !== null && time.highS !== null && time.lowS !== time.highS
              ? ` (${fixed(time.lowS, 1)} – ${fixed(time.highS, 1)})`
              : ""}
          </small>
        </Explained>
      </dd>
    </div>
  );
}
