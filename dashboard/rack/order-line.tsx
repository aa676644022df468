import type { Rack } from "@leeward/shared-core/api/rack.ts";
import { nowS } from "../api/store.ts";
import { fixed } from "../display/numbers.ts";
import { locale } from "../language/live-words.ts";
import { rackWords as text } from "../language/rack-words.ts";

/** Within so many seconds an order is one of today. */
const TODAY_S = 24 * 3600;

/** What is to be ordered today, on top of the page; nothing where that is none. */
export function OrderLine({ rack }: { rack: Rack }) {
  const due = rack.reorder.filter(
    (line) => line.order > 0 && line.orderBy !== null && line.orderBy < nowS.value + TODAY_S,
  );
  if (due.length === 0) return null;
  const list = new Intl.ListFormat(locale.value).format(
    due.map((line) => `${fixed(line.order, 0)} × ${line.gas}`),
  );
  return (
    <p class="rack-order-line" data-field="order-line">
      <strong class="rack-now">{text.orderToday(list)}</strong>{" "}
      <button
        type="button"
        class="button"
        onClick={() => document.getElementById("order-title")?.scrollIntoView()}
      >
        {text.orderWhy}
      </button>
    </p>
  );
}
