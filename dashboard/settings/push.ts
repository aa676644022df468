import { request } from "../api/client.ts";

/** Somebody who hears of alarms by push. */
export interface PushContact {
  id: string;
  name: string;
}

/** Why this browser takes no push messages; null where it can. */
export function pushObstacle(): "https" | "browser" | "denied" | null {
  if (!isSecureContext) return "https";
  if (!("serviceWorker" in navigator) || !("PushManager" in window)) return "browser";
  return Notification.permission === "denied" ? "denied" : null;
}

interface Delivery {
  settings: {
    contacts: { id: string; name: string; ways: { kind: string }[] }[];
  };
}

/** Contacts that are to be told by push. */
export async function pushContacts(): Promise<PushContact[]> {
  const answer = await request<Delivery>("notify");
  if (!answer.ok) return [];
  return answer.value.settings.contacts.filter((one) =>
    one.ways.some((way) => way.kind === "push"),
  );
}

/** Subscribes this browser for a contact. False where the browser or its push service refuses. */
export async function subscribe(contact: string): Promise<boolean> {
  const key = await request<{ publicKey: string }>("notify/push-key");
  if (!key.ok || (await Notification.requestPermission()) !== "granted") return false;
  try {
    const registration = await navigator.serviceWorker.ready;
    const subscription = await registration.pushManager.subscribe({
      userVisibleOnly: true,
      applicationServerKey: key.value.publicKey,
    });
    const { endpoint, keys } = subscription.toJSON();
    const kept = await request<{ id: string }>("notify/subscriptions", {
      method: "POST",
      headers: { "content-type": "application/json" },
      body: JSON.stringify({ contact, endpoint, keys }),
    });
    if (!kept.ok) await subscription.unsubscribe();
    return kept.ok;
  } catch {
    return false;
  }
}
