import type { BenchTestView } from "@leeward/shared-core/bench/bench-test-document.ts";
import { whatIf } from "@leeward/shared-core/bench/what-if.ts";
import type { StationDocument } from "@leeward/shared-core/documents/station.ts";
import type { Composition } from "@leeward/shared-core/gases/composition.ts";
import { BAR_PA } from "@leeward/shared-core/units/factors.ts";
import { useMemo, useState } from "preact/hooks";
import { flowsInReason } from "../display/flows-in-text.ts";
import {
  DASH,
  fixed,
  flowFigure,
  linePressureText,
  pressureText,
  readingFigure,
} from "../display/numbers.ts";
import type { Rest } from "../display/page-figures.ts";
import { CFH_PER_LPM, referenceFactor } from "../display/units.ts";
import { gasName } from "../display/weld-line.ts";
import { benchWords as text } from "../language/bench-words.ts";
import { coreText } from "../language/core-words.ts";
import { units } from "../settings/settings.ts";
import { Explained } from "../shell/explain.tsx";
import { SelectField } from "../shell/fields.tsx";
import { DemandView } from "./demand-view.tsx";
import { Fold } from "./fold.tsx";
import { PressureField } from "./pressure-field.tsx";
import { ProcedureFields } from "./procedure-fields.tsx";
import { fittedTest } from "./tested-devices.ts";
import { procedureOf, triedFrom } from "./tried-procedure.ts";

const gases: Record<string, Composition> = {
  Ar: { Ar: 1 },
  "Ar 75, CO2 25": { Ar: 0.75, CO2: 0.25 },
  "Ar 82, CO2 18": { Ar: 0.82, CO2: 0.18 },
  "Ar 75, He 25": { Ar: 0.75, He: 0.25 },
  CO2: { CO2: 1 },
};

type Device = NonNullable<StationDocument["flowDevice"]>;

/** Something changed at a station: its window and what the scale then means, at once. */
export function WhatIfView(props: {
  station: StationDocument;
  tests: readonly BenchTestView[];
  /** What stands in the cylinder now, gauge bar; null where it is not known. */
  cylinderBar: number | null;
}) {
  const { station, tests } = props;
  const [tried, setTried] = useState(() => triedFrom(station.procedure));
  const [lineBar, setLineBar] = useState<number | null>(null);
  const [cylinderBar, setCylinderBar] = useState(props.cylinderBar);
  const [gas, setGas] = useState("");
  const [deviceOf, setDeviceOf] = useState("");
  const other = useMemo(() => {
    const test = tests.find((one) => one.id === deviceOf);
    return test ? fittedTest(test) : null;
  }, [deviceOf, tests]);
  const device: Device | null = other?.station.flowDevice
    ? { ...other.station.flowDevice, ...(other.result.fit ? { fit: other.result.fit } : {}) }
    : (station.flowDevice ?? null);
  const procedure = procedureOf(tried, station.procedure);
  const composition = gases[gas];
  const answer = whatIf(
    { ...station, procedure },
    {
      ...(composition ? { composition } : {}),
      ...(lineBar === null ? {} : { deliveryBar: lineBar }),
      ...(cylinderBar === null ? {} : { cylinderBar }),
      ...(device ? { flowDevice: device } : {}),
      ...(other?.station.regulator ? { regulator: other.station.regulator } : {}),
    },
  );
  const { window } = answer;
  const gasNow = composition ?? station.cylinder?.composition;
  const chosen = units.value;
  const flow = (lpm: number | null) => flowFigure(lpm, chosen);
  const told = (why: string) => flowsInReason(coreText(why), chosen);
  const why = answer.why === undefined ? null : told(answer.why);
  const deviceRests = (): Rest[] => [
    [text.window, `${flow(window.targetLpm)} ${chosen.flow}`],
    ...(gasNow ? [[text.gas, gasName(gasNow)] as const] : []),
    ...(lineBar === null ? [] : [[text.line, linePressureText(lineBar * BAR_PA, chosen)] as const]),
    ...(cylinderBar === null
      ? []
      : [[text.cylinder, pressureText(cylinderBar * BAR_PA, chosen)] as const]),
  ];
  return (
    <Fold title={text.whatIf} field="what-if">
      <div class="fields">
        <ProcedureFields tried={tried} onChange={setTried} />
        <PressureField label={text.cylinderAt} bar={cylinderBar} onChange={setCylinderBar} />
        <PressureField label={text.lineHeld} bar={lineBar} onChange={setLineBar} />
        <SelectField
          label={text.gas}
          value={gas}
          options={[
            { value: "", text: station.cylinder?.gas ?? text.notKnown },
            ...Object.keys(gases).map((name) => ({ value: name, text: name })),
          ]}
          onChange={setGas}
        />
        <SelectField
          label={text.device}
          value={deviceOf}
          options={[
            { value: "", text: text.ownDevice },
            ...tests.map((one) => ({ value: one.id, text: one.test.name })),
          ]}
          onChange={setDeviceOf}
        />
      </div>
      <dl class="bench-figures">
        <div>
          <dt>{text.window}</dt>
          <dd data-field="window">
            <Explained
              figure="weld-window"
              label={text.window}
              why={window.why && told(window.why)}
            >
              {flow(window.targetLpm)} <small>{chosen.flow}</small> ({flow(window.minimumLpm)} –{" "}
              {flow(window.maximumLpm)})
            </Explained>
          </dd>
        </div>
        <div>
          <dt>{text.factor}</dt>
          <dd data-field="factor">
            <Explained figure="weld-factor" label={text.factor} rests={deviceRests} why={why}>
              {answer.trueOverIndicated === null ? DASH : fixed(answer.trueOverIndicated, 3)}
            </Explained>
          </dd>
        </div>
        <div>
          <dt>{text.dial}</dt>
          <dd data-field="dial">
            <Explained figure="weld-dial" label={text.dial} rests={deviceRests} why={why}>
              {device && answer.dialToLpm !== null ? (
                <>
                  {readingFigure(onScale(answer.dialToLpm, device))}{" "}
                  <small>{device.readingUnit}</small>
                </>
              ) : (
                DASH
              )}
            </Explained>
          </dd>
        </div>
      </dl>
      <p class="quiet">{answer.from === "scale" ? text.fromScale : text.fromTest}</p>
      {gasNow && <DemandView procedure={procedure} composition={gasNow} />}
      {(answer.why ?? window.why) && <p class="quiet">{told(answer.why ?? window.why ?? "")}</p>}
    </Fold>
  );
}

/** A `metric20` flow as the figure printed on the device. */
function onScale(lpm: number, device: Device): number {
  const cfh = device.readingUnit === "CFH";
  const reference = device.scaleReference ?? (cfh ? "us" : "metric20");
  const atReference = lpm * referenceFactor("metric20", reference);
  return cfh ? atReference * CFH_PER_LPM : atReference;
}
