import { whatIf } from "@leeward/shared-core/bench/what-if.ts";
import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import type { Composition } from "@leeward/shared-core/gases/composition.ts";
import { useState } from "preact/hooks";
import { DASH, fixed, flowFigure } from "../display/numbers.ts";
import { benchWords as text } from "../language/bench-words.ts";
import { units } from "../settings/settings.ts";
import { SelectField } from "../shell/fields.tsx";
import { FigureField, figure } from "./fields.tsx";

const gases: Record<string, Composition> = {
  Ar: { Ar: 1 },
  "Ar 75, CO2 25": { Ar: 0.75, CO2: 0.25 },
  "Ar 82, CO2 18": { Ar: 0.82, CO2: 0.18 },
  "Ar 75, He 25": { Ar: 0.75, He: 0.25 },
  CO2: { CO2: 1 },
};

/** Something changed at a station: its window and what the scale then means, at once. */
export function WhatIfView({ station }: { station: StationDocument }) {
  const { procedure, regulator, flowDevice } = station;
  const [cup, setCup] = useState(String(procedure?.cup ?? ""));
  const [amps, setAmps] = useState(String(procedure?.amps ?? ""));
  const [bar, setBar] = useState(String(regulator?.deliveryBar ?? ""));
  const tube = flowDevice?.kind === "variable-area" ? flowDevice : null;
  const [scaleBar, setScaleBar] = useState(String(tube?.scaleBar ?? ""));
  const [gas, setGas] = useState("");
  const set = { cup: figure(cup), amps: figure(amps), bar: figure(bar), scale: figure(scaleBar) };
  const composition = gases[gas];
  const answer = whatIf(station, {
    procedure: {
      ...(set.cup === null ? {} : { cup: set.cup }),
      ...(set.amps === null ? {} : { amps: set.amps }),
    },
    ...(composition ? { composition } : {}),
    ...(set.bar === null ? {} : { deliveryBar: set.bar }),
    ...(tube && set.scale !== null ? { flowDevice: { ...tube, scaleBar: set.scale } } : {}),
  });
  const { window } = answer;
  const chosen = units.value;
  const flow = (lpm: number | null) => flowFigure(lpm, chosen);
  return (
    <section class="card bench-card no-print" data-field="what-if">
      <h2 class="card-title">{text.whatIf}</h2>
      <div class="fields">
        {procedure?.cup !== undefined && (
          <FigureField label={text.cup} value={cup} onChange={setCup} />
        )}
        {procedure?.amps !== undefined && (
          <FigureField label={text.amps} value={amps} onChange={setAmps} />
        )}
        <FigureField label={text.delivery} value={bar} onChange={setBar} />
        {tube && <FigureField label={text.scaleBar} value={scaleBar} onChange={setScaleBar} />}
        <SelectField
          label={text.gas}
          value={gas}
          options={[
            { value: "", text: station.cylinder?.gas ?? text.notKnown },
            ...Object.keys(gases).map((name) => ({ value: name, text: name })),
          ]}
          onChange={setGas}
        />
      </div>
      <dl class="bench-figures">
        <div>
          <dt>{text.window}</dt>
          <dd data-field="window">
            {flow(window.minimumLpm)} – {flow(window.targetLpm)} – {flow(window.maximumLpm)}{" "}
            <small>{chosen.flow}</small>
          </dd>
        </div>
        <div>
          <dt>{text.factor}</dt>
          <dd data-field="factor">
            {answer.trueOverIndicated === null ? DASH : fixed(answer.trueOverIndicated, 3)}
          </dd>
        </div>
        <div>
          <dt>{text.dial}</dt>
          <dd>
            {flow(answer.dialToLpm)} <small>{chosen.flow}</small>
          </dd>
        </div>
      </dl>
      {(answer.why ?? window.why) && <p class="quiet">{answer.why ?? window.why}</p>}
    </section>
  );
}
