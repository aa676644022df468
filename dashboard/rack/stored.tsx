import type { Rack, RackCylinder } from "@leeward/shared-core/api/rack.ts";
import { useState } from "preact/hooks";
import type { Answer } from "../api/client.ts";
import { moneyText } from "../display/money.ts";
import { DASH, fixed, temperatureText, volumeText } from "../display/numbers.ts";
import type { Rest } from "../display/page-figures.ts";
import { rackWords as text } from "../language/rack-words.ts";
import { units } from "../settings/settings.ts";
import { Explained } from "../shell/explain.tsx";
import { recallName } from "../shell/person.ts";
import { ProblemNote } from "../shell/problem-note.tsx";
import { Overdue } from "./fitted.tsx";
import { giveBack } from "./rack-api.ts";

/** Full ones in store, and those that wait for their supplier. */
export function Stored({ rack, onChange }: { rack: Rack; onChange: (rack: Rack) => void }) {
  const [failed, setFailed] = useState<Answer<Rack> | null>(null);
  const back = async (id: string) => {
    const answer = await giveBack(rack.site, id, recallName() || text.title);
    setFailed(answer.ok ? null : answer);
    if (answer.ok) onChange(answer.value);
  };
  const of = (place: RackCylinder["place"]) => rack.cylinders.filter((one) => one.place === place);
  return (
    <>
      {(["store", "used"] as const).map((place) => (
        <section key={place} class="card" aria-labelledby={`${place}-title`} data-place={place}>
          <h2 class="card-title" id={`${place}-title`}>
            {text[place]}
          </h2>
          {of(place).length === 0 && <p class="quiet">{text.empty}</p>}
          <ul class="rack-list">
            {of(place).map((one) => (
              <li key={one.id} data-cylinder={one.id}>
                <span>
                  <strong>{one.record.serial}</strong> {one.record.gas}
                  {one.record.lot && `, ${text.lot(one.record.lot)}`}
                  <Overdue cylinder={one} />
                  <small>
                    {place === "store" && (
                      <>
                        <Explained
                          figure="rack-full"
                          label={one.record.serial}
                          rests={() => labelOf(one)}
                        >
                          {volumeText(one.fullLitres, units.value)}
                        </Explained>
                        {", "}
                      </>
                    )}
                    {one.record.supplier || DASH}
                    {one.record.pricePerFill !== undefined && (
                      <>
                        {", "}
                        <Explained figure="rack-price" label={text.price}>
                          {moneyText(one.record.pricePerFill, rack.currency)}
                        </Explained>
                      </>
                    )}
                  </small>
                </span>
                {place === "used" && (
                  <button
                    type="button"
                    class="button button-glove"
                    onClick={() => void back(one.id)}
                  >
                    {text.giveBack}
                    <span class="visually-hidden"> {one.record.serial}</span>
                  </button>
                )}
              </li>
            ))}
          </ul>
        </section>
      ))}
      <ProblemNote answer={failed} />
    </>
  );
}

/** What stands on a cylinder, from which its full content follows. */
function labelOf({ record }: RackCylinder): Rest[] {
  const water: Rest = [text.water, fixed(record.waterVolumeL, 1)];
  if (record.filledKg !== undefined) return [water, [text.kg, fixed(record.filledKg, 1)]];
  const { filledBar, filledC = 15 } = record;
  if (filledBar === undefined) return [water];
  const other = filledC === 15 ? "" : ` (${temperatureText(filledC, units.peek())})`;
  return [water, [text.bar, `${fixed(filledBar, 0)}${other}`]];
}
