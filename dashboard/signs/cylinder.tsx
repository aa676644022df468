import { useId } from "preact/hooks";
import type { CylinderFill } from "../display/cylinder-fill.ts";

/** Body of the drawing: its inside runs from FOOT up to TOP. */
const FOOT = 157;
const TOP = 30;
const BODY =
  "M6 42c0-10 8-14 14-18 2.5-1.700 4-3 4-5h12c0 2 1.5 3.300 4 5 6 4 14 8 14 18v109q0 6-6 6H12q-6 0-6-6z";

/**
 * A cylinder: filled to the content, the uncertain part lighter, what cannot be used hatched;
 * with liquid inside dotted with a question mark, since pressure cannot tell.
 */
export function Cylinder(props: {
  fill: CylinderFill | null;
  liquid: boolean;
  label: string;
  count: number;
}) {
  const { fill, liquid, label, count } = props;
  const id = useId();
  const height = (part: number) => part * (FOOT - TOP);
  const bar = (from: number, to: number) => ({
    y: FOOT - height(to),
    height: Math.max(0, height(to) - height(from)),
  });
  return (
    <svg class="cylinder" viewBox="0 0 60 160" role="img" aria-label={label}>
      <defs>
        <clipPath id={`${id}-body`}>
          <path d={BODY} />
        </clipPath>
        <pattern
          id={`${id}-hatch`}
          width="5"
          height="5"
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(45)"
        >
          <rect class="cylinder-hatch-ground" width="5" height="5" />
          <rect class="cylinder-hatch-line" width="2" height="5" />
        </pattern>
        <pattern id={`${id}-dots`} width="7" height="7" patternUnits="userSpaceOnUse">
          <circle class="cylinder-dot" cx="3.5" cy="3.5" r="1" />
        </pattern>
      </defs>
      <path class="cylinder-valve" d="M25 18v-9h10v9M35 12h6M23 9h14V3H23z" />
      <g clip-path={`url(#${id}-body)`}>
        {liquid ? (
          <rect x="0" y="0" width="60" height="160" fill={`url(#${id}-dots)`} />
        ) : (
          fill && (
            <>
              <rect class="cylinder-perhaps" x="0" width="60" {...bar(fill.sure, fill.perhaps)} />
              <rect class="cylinder-sure" x="0" width="60" {...bar(fill.unusable, fill.sure)} />
              <rect x="0" width="60" {...bar(0, fill.unusable)} fill={`url(#${id}-hatch)`} />
            </>
          )
        )}
      </g>
      <path class="cylinder-body" d={BODY} />
      {liquid && (
        <text class="cylinder-question" x="30" y="106" text-anchor="middle">
          ?
        </text>
      )}
      {!liquid && !fill && (
        <text class="cylinder-question" x="30" y="106" text-anchor="middle">
          –
        </text>
      )}
      {count > 1 && (
        <text class="cylinder-count" x="30" y="62" text-anchor="middle">
          {`${count} ×`}
        </text>
      )}
    </svg>
  );
}
