import { linkReach } from "../display/link-reach.ts";
import { setupWords } from "../language/setup-words.ts";
import type { DeliverySettings } from "./setup-api.ts";

const wayOrder = ["push", "email", "webhook", "mqtt", "node"] as const;

/** What each way needs so that a message arrives outside the shop, and what its link needs. */
export function OutsideSection({ settings }: { settings: DeliverySettings }) {
  const text = setupWords.outside;
  const used = new Set(settings.contacts.flatMap(({ ways }) => ways.map(({ kind }) => kind)));
  const shown = wayOrder.filter((way) => used.has(way));
  const reach = linkReach(settings.publicUrl);
  if (shown.length === 0) return null;
  return (
    <fieldset class="setup-spans" data-field="outside">
      <legend>{text.title}</legend>
      <p>{text.intro}</p>
      <dl class="setup-needs-list">
        {shown.map((way) => (
          <div key={way} data-way={way}>
            <dt>{setupWords.shopPage.ways[way]}</dt>
            <dd>{text.needs[way]}</dd>
          </div>
        ))}
      </dl>
      <p class={reach === "outside" ? "quiet" : "caution"} data-reach={reach}>
        {text.reach[reach]}
      </p>
    </fieldset>
  );
}
