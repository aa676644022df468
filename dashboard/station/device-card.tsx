import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { deviceLine } from "../display/device-line.ts";
import { DASH, readingFigure } from "../display/numbers.ts";
import { words } from "../language/words.ts";
import { FloatTube } from "../signs/float-tube.tsx";
import { OrificeGauge } from "../signs/orifice-gauge.tsx";

/** What float or gauge should show now and what to set, in the unit printed on it. */
export function DeviceCard({ view }: { view: StationView }) {
  const device = view.description.flowDevice;
  const estimate = view.estimate;
  if (!device || !estimate) {
    return (
      <section class="card device-card">
        <h2 class="card-title">{device ? words.device[device.kind] : words.device.none}</h2>
        <p class="device-set">{DASH}</p>
      </section>
    );
  }
  const line = deviceLine(estimate, view.description);
  const shows = estimate.indicated.reading;
  const setTo = estimate.dialTo.reading;
  const unit = estimate.dialTo.unit ?? estimate.indicated.unit ?? device.readingUnit;
  const turn = line?.action === "set";
  const label = words.device.drawing(
    words.device[device.kind],
    `${readingFigure(shows)} ${unit}`,
    `${readingFigure(setTo)} ${unit}`,
  );
  const drawing = { shows, setTo, turn, label };
  return (
    <section
      class={`card device-card${turn ? " device-turn" : ""}`}
      aria-label={words.device[device.kind]}
    >
      <div class="device-words">
        <h2 class="card-title">{title(device)}</h2>
        <p class="device-label">
          {turn
            ? words.device.setLabel
            : setTo !== null
              ? words.device.leaveIt
              : words.device.setLabel}
        </p>
        <p class="device-set">
          <span class="device-figure" data-field="dial-to">
            {readingFigure(turn ? setTo : (shows ?? setTo))}
          </span>{" "}
          <span class="flow-unit">{unit}</span>
        </p>
        <p class="card-note" data-field="indicated">
          {shows === null
            ? (estimate.indicated.why ?? "")
            : `${words.device.showLabel} ${readingFigure(shows)}`}
        </p>
        {setTo === null && <p class="card-note">{estimate.dialTo.why ?? words.device.unknown}</p>}
        {turn && <p class="card-small">{words.device.setWhile}</p>}
      </div>
      {device.kind === "variable-area" && <FloatTube device={device} {...drawing} />}
      {device.kind === "orifice-gauge" && <OrificeGauge device={device} {...drawing} />}
    </section>
  );
}

function title(device: NonNullable<StationView["description"]["flowDevice"]>): string {
  if (device.kind === "orifice-gauge") return words.device.gaugeTitle;
  if (device.kind === "metered") return words.device.meterTitle;
  const how = device.float === "shaped" ? words.device.readAt : words.device.readAtBall;
  const name = words.device["variable-area"];
  return device.readAt ? `${name}, ${how[device.readAt]}` : name;
}
