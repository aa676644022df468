import type { OrificeGaugeDocument } from "@leeward/shared-core/documents/hardware.ts";
import { fixed } from "../display/numbers.ts";
import { scaleMarks, scalePlace } from "../display/scale.ts";

const CX = 120;
const CY = 120;
const RADIUS = 100;

/** Dial angle in radians: from lower left over the top to lower right. */
function angle(place: number): number {
  return ((-225 + place * 270) * Math.PI) / 180;
}

function at(place: number, radius: number): [number, number] {
  const a = angle(place);
  return [CX + radius * Math.cos(a), CY + radius * Math.sin(a)];
}

/** The dial: a hollow needle where it should stand now, a filled one where to set it. */
export function OrificeGauge(props: {
  device: OrificeGaugeDocument;
  shows: number | null;
  setTo: number | null;
  turn: boolean;
  label: string;
}) {
  const { device, shows, setTo, turn, label } = props;
  const max = device.scaleMax ?? Math.max(20, (shows ?? 0) * 1.3, (setTo ?? 0) * 1.3);
  const place = (value: number) => scalePlace(value, 0, max);
  return (
    <svg class="device-drawing device-gauge" viewBox="0 0 240 240" role="img" aria-label={label}>
      <circle class="device-body" cx={CX} cy={CY} r={RADIUS + 14} />
      {scaleMarks(0, max).map((mark) => {
        const [x1, y1] = at(place(mark.value), RADIUS);
        const [x2, y2] = at(place(mark.value), RADIUS - (mark.numbered ? 13 : 8));
        const [tx, ty] = at(place(mark.value), RADIUS - 27);
        return (
          <g key={mark.value}>
            <path class="device-mark" d={`M${x1} ${y1}L${x2} ${y2}`} />
            {mark.numbered && (
              <text class="device-number" x={tx} y={ty + 6} text-anchor="middle">
                {fixed(mark.value, 0)}
              </text>
            )}
          </g>
        );
      })}
      {setTo !== null && turn && (
        <path class="device-needle device-needle-set" d={needle(place(setTo))} />
      )}
      {shows !== null && <path class="device-needle" d={needle(place(shows))} />}
      <circle class="device-hub" cx={CX} cy={CY} r="6" />
    </svg>
  );
}

function needle(place: number): string {
  const [tipX, tipY] = at(place, RADIUS - 42);
  const a = angle(place);
  const [sx, sy] = [6 * Math.sin(a), -6 * Math.cos(a)];
  return `M${CX + sx} ${CY + sy}L${tipX} ${tipY}L${CX - sx} ${CY - sy}Z`;
}
