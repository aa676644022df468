import type { StationView } from "@leeward/shared-core/api/stations.ts";
import type { FlowDeviceDocument } from "@leeward/shared-core/documents/hardware.ts";
import type { Estimate } from "@leeward/shared-core/estimation/estimate.ts";
import { reasonText } from "../display/alarm-text.ts";
import { deviceLine, settingsAgree, shownReading } from "../display/device-line.ts";
import { DASH, readingFigure } from "../display/numbers.ts";
import { mostUrgentFirst, urgencyOf } from "../display/urgency.ts";
import { words } from "../language/words.ts";
import { units } from "../settings/settings.ts";
import { Explained } from "../shell/explain.tsx";
import { FloatTube } from "../signs/float-tube.tsx";
import { OrificeGauge } from "../signs/orifice-gauge.tsx";

/** What float or gauge should show now and what to set, in the unit printed on it. */
export function DeviceCard({ view, live }: { view: StationView; live: boolean }) {
  const device = view.description.flowDevice;
  const estimate = view.estimate;
  if (!device || !estimate) {
    return (
      <section class="card device-card">
        <div class="device-words">
          <h2 class="card-title">{device ? title(device) : words.device.none}</h2>
          <p class="device-figure">{DASH}</p>
        </div>
      </section>
    );
  }
  const line = deviceLine(estimate, view.description);
  const shows = shownReading(estimate);
  const setTo = estimate.dialTo.reading;
  const unit = estimate.dialTo.unit ?? estimate.indicated.unit ?? device.readingUnit;
  const turn = line?.action === "set";
  const first = mostUrgentFirst(estimate.alarms)[0];
  const colour = turn && live && first ? ` device-${urgencyOf(first)}` : "";
  const label = words.device.drawing(
    words.device[device.kind],
    `${readingFigure(shows)} ${unit}`,
    `${readingFigure(setTo)} ${unit}`,
  );
  // With gas off nothing is shown: then the setting to have is the figure.
  const setting = turn || (shows === null && setTo !== null);
  const note = deviceNote(view);
  const drawing = { shows, setTo, turn: setting, label };
  return (
    <section class={`card device-card${colour}`} aria-label={words.device[device.kind]}>
      <div class="device-words">
        <h2 class="card-title">{title(device)}</h2>
        {setting ? (
          <Reading
            id={view.id}
            name={words.device.setLabel}
            field="dial-to"
            mark="ball"
            value={setTo}
            unit={unit}
          />
        ) : (
          <Reading
            id={view.id}
            name={words.device.showLabel}
            field="indicated"
            mark="ring"
            value={shows}
            unit={unit}
          />
        )}
        {turn && shows !== null && (
          <p class="card-note">
            <span class="mark-ring" aria-hidden="true" /> {words.device.showLabel}{" "}
            <Explained id={view.id} field="indicated" label={words.device.showLabel}>
              <span data-field="indicated">{readingFigure(shows)}</span>
            </Explained>{" "}
            {unit}
          </p>
        )}
        {note && (
          <p class="card-note">
            <Explained
              id={view.id}
              field={["indicated", "dial-to"]}
              label={words.device[device.kind]}
              inRow
            >
              {note}
            </Explained>
          </p>
        )}
        {setting && <p class="card-small">{words.device.setWhile}</p>}
      </div>
      {device.kind === "variable-area" && <FloatTube device={device} {...drawing} />}
      {device.kind === "orifice-gauge" && <OrificeGauge device={device} {...drawing} />}
    </section>
  );
}

function Reading(props: {
  id: string;
  name: string;
  field: "dial-to" | "indicated";
  mark: "ball" | "ring";
  value: number | null;
  unit: string;
}) {
  return (
    <>
      <p class="device-label">
        <span class={`mark-${props.mark}`} aria-hidden="true" /> {props.name}
      </p>
      <p class="device-set">
        <Explained id={props.id} field={props.field} label={props.name}>
          <span class="device-figure" data-field={props.field}>
            {readingFigure(props.value)}
          </span>
        </Explained>{" "}
        <span class="flow-unit">{props.unit}</span>
      </p>
    </>
  );
}

/** `leave it`, the setting to come, or why nothing can be said. */
function deviceNote(view: StationView): string {
  const estimate = view.estimate;
  const device = view.description.flowDevice;
  const line = estimate && deviceLine(estimate, view.description);
  if (!estimate || !line || !device) return "";
  if (line.action === "leave") return leaveNote(estimate, device.readingUnit);
  if (line.action === "set") return "";
  const shown = shownReading(estimate) === null ? estimate.indicated.why : undefined;
  const why = shown ?? line.why;
  return why ? reasonText(why, units.value) : words.device.unknown;
}

/** `leave it`, and where the target lies if that is elsewhere on the scale. */
function leaveNote(estimate: Estimate, unit: string): string {
  const shows = shownReading(estimate);
  const target = estimate.dialTo.reading;
  if (shows === null) return words.device.rightAsItIs;
  if (target === null || settingsAgree(shows, target, unit)) return words.device.leaveIt;
  return `${words.device.leaveIt}; ${words.device.targetAt(`${readingFigure(target)} ${unit}`)}`;
}

function title(device: FlowDeviceDocument): string {
  if (device.kind === "orifice-gauge") return words.device.gaugeTitle;
  if (device.kind === "metered") return words.device.meterTitle;
  const how = device.float === "shaped" ? words.device.readAt : words.device.readAtBall;
  const name = words.device["variable-area"];
  return device.readAt ? `${name}, ${how[device.readAt]}` : name;
}
