// Messages of alarms, as the gateway's push payload has them. Part of the service worker: it runs
// with no page open, so that everything it says comes with the message itself.

self.addEventListener("push", (event) => {
  let message = null;
  try {
    message = event.data?.json() ?? null;
  } catch {
    // Something that is no message of ours must still show: a push that shows nothing is taken away.
  }
  const line = typeof message?.line === "string" ? message.line : "Leeward";
  event.waitUntil(
    self.registration.showNotification(line, {
      body: typeof message?.body === "string" ? message.body : "",
      tag: typeof message?.tag === "string" ? message.tag : "leeward",
      // A repeat replaces its original without another sound.
      renotify: message?.repeat !== true,
      requireInteraction: message?.priority === "high",
      timestamp: typeof message?.t === "number" ? message.t * 1000 : undefined,
      icon: "icon-192.png",
      data: { link: typeof message?.link === "string" ? message.link : null },
    }),
  );
});

self.addEventListener("notificationclick", (event) => {
  event.notification.close();
  const scope = self.registration.scope;
  let target = new URL("#/alarms", scope);
  try {
    const link = new URL(event.notification.data?.link ?? target.href, scope);
    if (link.protocol === "http:" || link.protocol === "https:") target = link;
  } catch {
    // An address that is none leads to the alarms.
  }
  event.waitUntil(self.clients.openWindow(target.href));
});
