/* Part of the service worker: what a push message shows, and where a tap on it leads. */

/** Where a message leads: its alarm, or the list of all. */
function pageOf(data) {
  const alarm = typeof data?.tag === "string" && data.tag.includes("~") ? data.tag : null;
  const hash = alarm === null ? "#/alarms" : `#/alarms/${encodeURIComponent(alarm)}`;
  return new URL(hash, self.registration.scope).href;
}

self.addEventListener("push", (event) => {
  let message = {};
  try {
    message = event.data?.json() ?? {};
  } catch {
    // A message that cannot be read is shown all the same: it may be urgent.
  }
  const line = typeof message.line === "string" ? message.line : "Leeward";
  event.waitUntil(
    self.registration.showNotification(line, {
      body: typeof message.body === "string" ? message.body : "",
      // The same alarm again replaces what was shown of it.
      tag: typeof message.tag === "string" ? message.tag : "leeward",
      renotify: message.repeat !== true,
      requireInteraction: message.priority === "high",
      icon: "icon-192.png",
      badge: "icon-192.png",
      timestamp: typeof message.t === "number" ? message.t * 1000 : undefined,
      data: { tag: message.tag },
    }),
  );
});

self.addEventListener("notificationclick", (event) => {
  event.notification.close();
  const url = pageOf(event.notification.data);
  event.waitUntil(
    self.clients.matchAll({ type: "window", includeUncontrolled: true }).then(async (open) => {
      const [client] = open;
      if (!client) return self.clients.openWindow(url);
      const shown = await client.navigate(url).catch(() => null);
      return (shown ?? client).focus().catch(() => undefined);
    }),
  );
});
