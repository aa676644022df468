import type { BrowserContext, CDPSession, Page, Worker } from "playwright-core";
import { beforeAll, expect, test, vi } from "vitest";
import { getList } from "./gateway-process.ts";
import { sharedShop, shopInBrowser } from "./shop-in-browser.ts";

// A message of an alarm on a phone: pushed to the real service worker, shown, and tapped.

const shop = shopInBrowser(sharedShop);
let context: BrowserContext;
let page: Page;
let worker: Worker;
let devtools: CDPSession;
let registrationId = "";

beforeAll(async () => {
  context = await shop.browser.newContext({
    locale: "en-GB",
    viewport: { width: 390, height: 844 },
  });
  await context.grantPermissions(["notifications"], { origin: shop.gateway.url });
  page = await context.newPage();
  devtools = await context.newCDPSession(page);
  devtools.on("ServiceWorker.workerRegistrationUpdated", ({ registrations }) => {
    registrationId = registrations[0]?.registrationId ?? registrationId;
  });
  await devtools.send("ServiceWorker.enable");
  await page.goto(`${shop.gateway.url}/`);
  await page.waitForSelector(".tile[data-t]");
  await page.waitForFunction(async () => (await navigator.serviceWorker.ready).active !== null);
  await vi.waitUntil(() => context.serviceWorkers().length > 0, { timeout: 10_000 });
  worker = context.serviceWorkers()[0] as Worker;
  await vi.waitUntil(() => registrationId !== "", { timeout: 10_000 });
}, 300_000);

interface Shown {
  title: string;
  body: string;
  tag: string;
  data: { link: string | null };
}

/** Delivers what a push service would, and answers what stands on the screen then. */
async function push(data: string): Promise<Shown[]> {
  const before = (await shown()).length;
  await devtools.send("ServiceWorker.deliverPushMessage", {
    origin: shop.gateway.url,
    registrationId,
    data,
  });
  await expect.poll(async () => (await shown()).length).toBeGreaterThan(before);
  return shown();
}

const shown = (): Promise<Shown[]> =>
  page.evaluate(async () =>
    (await (await navigator.serviceWorker.ready).getNotifications()).map((one) => ({
      title: one.title,
      body: one.body,
      tag: one.tag,
      data: one.data,
    })),
  );

/**
 * Taps the message with a tag; answers the address that the worker opens. A browser lends a window
 * only to a finger, so that the address is taken where the worker asks for it.
 */
function tap(tag: string): Promise<string> {
  return worker.evaluate(async (wanted) => {
    const scope = globalThis as unknown as {
      registration: { getNotifications(): Promise<{ tag: string }[]> };
      clients: { openWindow(url: string): Promise<null> };
      dispatchEvent(event: Event): void;
    };
    const notification = (await scope.registration.getNotifications()).find(
      (one) => one.tag === wanted,
    );
    const Event = (globalThis as unknown as { NotificationEvent: new (...of: unknown[]) => Event })
      .NotificationEvent;
    return new Promise<string>((resolve) => {
      scope.clients.openWindow = async (url) => {
        resolve(url);
        return null;
      };
      scope.dispatchEvent(new Event("notificationclick", { notification }));
    });
  }, tag);
}

test("a message shows what the gateway wrote, and a tap opens its alarm", async () => {
  const { alarms } = (await (await fetch(`${shop.gateway.url}/api/v1/alarms`)).json()) as {
    alarms: { id: string; station: string; title: string }[];
  };
  const alarm = alarms[0];
  if (!alarm) throw new Error("the virtual shop has no alarm");
  const link = `${shop.gateway.url}/#/alarms/${encodeURIComponent(alarm.id)}`;
  const messages = await push(
    JSON.stringify({ tag: "t-1", line: alarm.title, body: "Turn it up.", link, priority: "high" }),
  );
  expect(messages).toEqual([
    { title: alarm.title, body: "Turn it up.", tag: "t-1", data: { link } },
  ]);
  const opened = await tap("t-1");
  expect(opened).toBe(link);
  expect(await shown()).toEqual([]);
  await page.goto(opened);
  // By its id: the minutes in its title go on counting.
  await page.waitForSelector(`[data-alarm="${alarm.id}"]`);
});

test("a link to a station leads to its page", async () => {
  const id = (await getList(shop.gateway.url)).stations[0]?.id ?? "";
  const link = `${shop.gateway.url}/#/station/${id}`;
  await push(JSON.stringify({ tag: "t-2", line: "Cylinder low", body: "", link }));
  await page.goto(await tap("t-2"));
  await page.waitForSelector(`main[data-station="${id}"]`);
});

test.each([
  ["no link", JSON.stringify({ tag: "t-3", line: "Gateway not reachable", body: "" })],
  [
    "an address that is none of a page",
    JSON.stringify({ tag: "t-3", line: "x", link: "javascript:0" }),
  ],
])("with %s a tap leads to the alarms", async (_name, data) => {
  await push(data);
  expect(await tap("t-3")).toBe(`${shop.gateway.url}/#/alarms`);
});

test("what is no message of ours still shows, and leads to the alarms", async () => {
  const messages = await push("not json");
  expect(messages.map((one) => [one.title, one.tag])).toEqual([["Leeward", "leeward"]]);
  expect(await tap("leeward")).toBe(`${shop.gateway.url}/#/alarms`);
});
