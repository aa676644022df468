import type { VariableAreaDocument } from "@leeward/shared-core/documents/hardware.ts";
import { fixed } from "../display/numbers.ts";
import { scaleMarks, scalePlace } from "../display/scale.ts";

const TOP = 18;
const BOTTOM = 262;
const AXIS = 46;
const RADIUS = 11;

/** How far the centre of the float stands above the point at which it is read. */
const readingOffset = {
  "float-top": RADIUS,
  "float-centre": 0,
  "float-bottom": -RADIUS,
  "float-widest": 0,
} as const;

/** The tube: a ring where the float should show now, a filled ball where to set it, dots between. */
export function FloatTube(props: {
  device: VariableAreaDocument;
  shows: number | null;
  setTo: number | null;
  turn: boolean;
  label: string;
}) {
  const { device, shows, setTo, turn, label } = props;
  const min = 0;
  const max = device.scaleMax ?? Math.max(16, (shows ?? 0) * 1.3, (setTo ?? 0) * 1.3);
  const y = (value: number) => BOTTOM - scalePlace(value, min, max) * (BOTTOM - TOP);
  const offset = readingOffset[device.readAt ?? "float-widest"];
  const ballY = (value: number) => y(value) + offset;
  return (
    <svg class="device-drawing device-tube" viewBox="0 0 124 280" role="img" aria-label={label}>
      <path class="device-body" d={`M24 4h44l-6 ${BOTTOM + 12 - 4}H30z`} />
      {scaleMarks(min, max).map((mark) => (
        <g key={mark.value}>
          <path class="device-mark" d={`M72 ${y(mark.value)}h${mark.numbered ? 14 : 8}`} />
          {mark.numbered && (
            <text class="device-number" x="92" y={y(mark.value) + 5}>
              {fixed(mark.value, mark.value % 1 === 0 ? 0 : 1)}
            </text>
          )}
        </g>
      ))}
      {shows !== null && setTo !== null && turn && (
        <path class="device-way" d={`M${AXIS} ${ballY(shows)}V${ballY(setTo)}`} />
      )}
      {shows !== null && (
        <>
          <circle class="device-ring" cx={AXIS} cy={ballY(shows)} r={RADIUS} />
          <path class="device-read" d={`M${AXIS - RADIUS - 5} ${y(shows)}h${2 * RADIUS + 10}`} />
        </>
      )}
      {setTo !== null && turn && (
        <circle class="device-ball" cx={AXIS} cy={ballY(setTo)} r={RADIUS} />
      )}
    </svg>
  );
}
