import { setupWords } from "../language/setup-words.ts";
import type { DeliverySettings } from "./setup-api.ts";

/** How far the address in messages reaches. */
export type LinkReach = "none" | "plain" | "local" | "outside";

const LOCAL_NAMES = /(^localhost|\.local|\.lan|\.home\.arpa|\.internal|\.test)$/;
/** RFC 1918, loopback, link-local and unique local addresses. */
const LOCAL_ADDRESSES =
  /^(127\.|10\.|192\.168\.|169\.254\.|172\.(1[6-9]|2\d|3[01])\.|\[::1\]|\[f[cde])/;

/** Whether a phone outside can open what messages link to, as far as the address tells it. */
export function linkReach(publicUrl: string | null): LinkReach {
  if (publicUrl === null || !URL.canParse(publicUrl)) return "none";
  const { protocol, hostname } = new URL(publicUrl);
  const local =
    LOCAL_ADDRESSES.test(hostname) || LOCAL_NAMES.test(hostname) || !/[.:]/.test(hostname);
  if (local) return "local";
  return protocol === "https:" ? "outside" : "plain";
}

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
