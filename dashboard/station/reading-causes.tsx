import type { ReadingCase, ReadingCause } from "@leeward/shared-core/flow/reading-causes.ts";
import { useEffect, useState } from "preact/hooks";
import { flowFigure, linePressureText } from "../display/numbers.ts";
import type { UnitChoice } from "../display/units.ts";
import { words } from "../language/words.ts";

/** Causes less likely than this are not worth a walk. */
const WORTH = 0.02;

/** What a difference can mean, the likeliest first, each with the flow that it would mean. */
export function ReadingCauses({ seen, units }: { seen: ReadingCase; units: UnitChoice }) {
  const [causes, setCauses] = useState<ReadingCause[] | null>(null);
  useEffect(() => {
    let stopped = false;
    void import("@leeward/shared-core/flow/reading-causes.ts").then(({ readingCauses }) => {
      if (!stopped) setCauses(readingCauses(seen));
    });
    return () => {
      stopped = true;
    };
  }, [seen]);
  if (!causes) return null;
  const text = words.told;
  return (
    <>
      <p class="quiet">{text.inOrder}</p>
      <ol class="causes">
        {causes
          .filter(({ share }) => share >= WORTH)
          .map((cause) => (
            <li key={cause.cause} data-cause={cause.cause}>
              <strong>{text.causes[cause.cause].name}</strong> {text.causes[cause.cause].look}{" "}
              {details(cause, units)}
            </li>
          ))}
      </ol>
    </>
  );
}

function details(cause: ReadingCause, units: UnitChoice): string {
  const text = words.told;
  const flow = (lpm: number) => `${flowFigure(lpm, units)} ${units.flow}`;
  const { looksLike, madeFor, lostLpm } = cause;
  return [
    looksLike && text.likeGas(looksLike),
    madeFor?.gas && text.likeTubeGas(madeFor.gas),
    madeFor?.gaugeBar !== undefined &&
      text.likeTube(linePressureText(madeFor.gaugeBar * 1e5, units)),
    lostLpm !== undefined && text.lost(flow(lostLpm)),
    text.thenFlow(flow(cause.lpm)),
  ]
    .filter(Boolean)
    .join(" ");
}
