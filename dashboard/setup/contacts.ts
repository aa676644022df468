import type { DeliverySettings } from "./setup-api.ts";
import { stationName } from "./station-name.ts";

export type { DeliverySettings };

type Way = DeliverySettings["contacts"][number]["ways"][number];

/** Characters that the gateway asks of a web address's secret at least. */
export const SECRET_LENGTH = 24;

/** The settings with one contact more; the very first hears of every alarm at once. */
export function withContact(
  settings: DeliverySettings,
  name: string,
  way: Way,
): Partial<DeliverySettings> {
  const id = freeId(stationName(name) ?? "contact", settings);
  const first = settings.contacts.length === 0 && settings.chains.length === 0;
  return {
    contacts: [...settings.contacts, { id, name, ways: [way] }],
    ...(first
      ? {
          chains: [
            { priorities: ["high", "medium", "low"], steps: [{ afterS: 0, contacts: [id] }] },
          ],
        }
      : {}),
  };
}

/**
 * The settings without a contact, of whom no chain and no digest may speak any more. A step with
 * nobody left goes, and a chain without a step: it would only hide the chain after it.
 */
export function withoutContact(settings: DeliverySettings, id: string): Partial<DeliverySettings> {
  const others = (ids: readonly string[]) => ids.filter((one) => one !== id);
  return {
    contacts: settings.contacts.filter((one) => one.id !== id),
    chains: settings.chains.flatMap((chain) => {
      const steps = chain.steps.flatMap((step) => {
        const contacts = others(step.contacts);
        return contacts.length === 0 && step.contacts.includes(id) ? [] : [{ ...step, contacts }];
      });
      return steps.length === 0 ? [] : [{ ...chain, steps }];
    }),
    digestTo: others(settings.digestTo),
  };
}

/** A secret of 32 hexadecimal digits; works on plain http too. */
export function newSecret(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

/** An identifier that no contact has yet. */
function freeId(wanted: string, { contacts }: DeliverySettings): string {
  const taken = new Set(contacts.map((one) => one.id));
  for (let n = 1; ; n++) {
    const id = n === 1 ? wanted : `${wanted.slice(0, 28)}-${n}`;
    if (!taken.has(id)) return id;
  }
}
