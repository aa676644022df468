import { join } from "node:path";
import type { AlarmView } from "@leeward/shared-core/api/alarms.ts";
import type { Page } from "playwright-core";
import { expect, test, vi } from "vitest";
import { startYoung } from "./gateway-process.ts";
import {
  artefacts,
  freshContext,
  keepPicture,
  looksOf,
  type Scheme,
  type Size,
  sideways,
  violations,
} from "./page-checks.ts";
import { shopInBrowser } from "./shop-in-browser.ts";

const shop = shopInBrowser(startYoung);

async function open(path: string, size: Size = "laptop", scheme: Scheme = "light"): Promise<Page> {
  const page = await (await freshContext(shop.browser, size, scheme)).newPage();
  await page.goto(`${shop.gateway.url}/${path}`);
  // Why and what if nobody acts is fetched beside the alarms themselves.
  await page.locator("[data-alarm]", { hasText: "If nobody acts" }).first().waitFor();
  return page;
}

async function listed(): Promise<AlarmView[]> {
  const response = await fetch(`${shop.gateway.url}/api/v1/alarms`);
  return ((await response.json()) as { alarms: AlarmView[] }).alarms;
}

/** An alarm that holds and that nobody has seen; the stories keep several up. */
async function fresh(): Promise<AlarmView> {
  return vi.waitUntil(
    async () =>
      (await listed()).find(
        (one) =>
          one.state === "unacknowledged" && one.active && one.condition !== "under-shielding",
      ),
    { timeout: 30_000, interval: 500 },
  );
}

test("shows every alarm in its state, the neediest state first", async () => {
  const page = await open("#/alarms");
  const alarms = await listed();
  expect(alarms.length).toBeGreaterThan(2);
  for (const one of alarms.filter((alarm) => alarm.active)) {
    const card = page.locator(`[data-alarm="${one.id}"]`);
    await card.waitFor();
    // Its figures go on changing, here and there: told once both say the same, or it has gone.
    await expect
      .poll(async () => {
        const now = (await listed()).find(({ id }) => id === one.id);
        return !now?.active || (await card.textContent())?.includes(now.advice);
      })
      .toBe(true);
    const text = (await card.textContent()) ?? "";
    expect(text).toContain("Cause");
    expect(text).toContain("If nobody acts");
    expect(text).toContain("Time to act");
  }
  const groups = await page
    .locator("[data-group]")
    .evaluateAll((all) => all.map((one) => (one as HTMLElement).dataset.group));
  expect(groups[0]).toBe("unacknowledged");
  await page.getByText("Only screens ring.").waitFor();
  await page.context().close();
}, 60_000);

test("acknowledged with name and note; the journal keeps both", async () => {
  const alarm = await fresh();
  const page = await open("#/alarms");
  const card = page.locator(`[data-alarm="${alarm.id}"]`);
  await card.getByRole("button", { name: "I have seen it" }).click();
  const dialog = page.getByRole("dialog");
  const send = dialog.getByRole("button", { name: "I have seen it" });
  expect(await send.isDisabled()).toBe(true);
  await dialog.getByLabel("Your name").fill("Ada");
  await dialog.getByLabel("Note (may stay empty)").fill("on my way");
  await send.click();
  await page.locator(`[data-group=acknowledged] [data-alarm="${alarm.id}"]`).waitFor();
  expect(await card.textContent()).toMatch(/seen by Ada, \d\d:\d\d.*“on my way”/);
  const after = (await listed()).find((one) => one.id === alarm.id);
  expect(after?.acknowledged).toMatchObject({ by: "Ada", note: "on my way" });
  await page.reload();
  const entries = page.locator("[data-field=journal] li");
  await entries.first().waitFor();
  // The newest first; the rest for whoever asks.
  expect(await entries.count()).toBeLessThanOrEqual(20);
  const rest = page.locator("[data-field=journal] .button-glove");
  if ((await rest.count()) > 0) {
    const [, all] = /(\d+)/.exec((await rest.textContent()) ?? "") ?? [];
    await rest.click();
    expect(await entries.count()).toBe(Number(all));
  }
  const entry = page.locator("[data-field=journal] [data-kind=acknowledged]").first();
  await entry.waitFor();
  expect(await entry.textContent()).toMatch(/was seen by Ada “on my way”/);
  await page.context().close();
}, 60_000);

test("put away with its limit, out of service with a reason, and brought back", async () => {
  const alarm = await fresh();
  const page = await open("#/alarms", "phone");
  const card = page.locator(`[data-alarm="${alarm.id}"]`);
  const dialog = page.getByRole("dialog");
  await card.getByRole("button", { name: "Put away …" }).click();
  await dialog.getByLabel("Your name").fill("Ben");
  await dialog.getByLabel("15 min").check();
  await dialog.getByRole("button", { name: "Put it away" }).click();
  await page.locator(`[data-group=shelved] [data-alarm="${alarm.id}"]`).waitFor();
  const shelf = (await listed()).find((one) => one.id === alarm.id)?.shelf;
  expect(Date.parse(shelf?.until ?? "") - Date.now()).toBeGreaterThan(13 * 60_000);
  expect(Date.parse(shelf?.until ?? "") - Date.now()).toBeLessThan(15.1 * 60_000);
  await card.getByRole("button", { name: "Bring it back" }).click();
  await dialog.getByRole("button", { name: "Bring it back" }).click();
  await page.locator(`[data-group=unacknowledged] [data-alarm="${alarm.id}"]`).waitFor();

  await card.getByRole("button", { name: "Put away …" }).click();
  await dialog.getByLabel("Out of service").check();
  const out = dialog.getByRole("button", { name: "Put it away" });
  expect(await out.isDisabled()).toBe(true);
  await dialog.getByLabel("Note: what is being repaired").fill("hose off");
  expect(await violations(page)).toEqual([]);
  await keepPicture(page, join(artefacts, "alarms-away-phone.png"));
  await out.click();
  await page.locator(`[data-group=out-of-service] [data-alarm="${alarm.id}"]`).waitFor();
  await card.getByRole("button", { name: "Bring it back" }).click();
  await dialog.getByRole("button", { name: "Bring it back" }).click();
  await page.locator(`[data-group=unacknowledged] [data-alarm="${alarm.id}"]`).waitFor();
  await page.context().close();
}, 90_000);

test("a message's link opens its alarm, and one tap without typing says it was seen", async () => {
  const settings = {
    contacts: [
      {
        id: "foreman",
        name: "Foreman",
        ways: [{ kind: "webhook", url: "http://127.0.0.1:9/", secret: "x".repeat(24) }],
      },
    ],
    chains: [],
  };
  const put = await fetch(`${shop.gateway.url}/api/v1/notify`, {
    method: "PUT",
    headers: { "content-type": "application/json" },
    body: JSON.stringify(settings),
  });
  expect(put.status).toBe(200);
  const alarm = await fresh();
  const page = await open(`alarms/${encodeURIComponent(alarm.id)}`, "phone");
  expect(new URL(page.url()).pathname).toBe("/");
  expect(page.url()).toContain("#/alarms/");
  await page.getByText("If nobody acts").waitFor();
  await keepPicture(page, join(artefacts, "alarm-link-phone.png"), true);
  expect(await violations(page)).toEqual([]);
  await page.getByRole("button", { name: "I have seen it: Foreman" }).click();
  await page.locator(`[data-alarm="${alarm.id}"][data-state=acknowledged]`).waitFor();
  expect((await listed()).find((one) => one.id === alarm.id)?.acknowledged?.by).toBe("Foreman");
  await page.getByText("was seen by Foreman").waitFor();
  await page.context().close();
}, 60_000);

test("an alarm that is none, and a test that does not arrive, are named", async () => {
  const page = await open("#/alarms");
  await page.evaluate(() => {
    location.hash = "#/alarms/boatyard.quay~leak~zzz";
  });
  await page.getByText("There is no such alarm.").waitFor();
  await page.getByRole("link", { name: "All alarms" }).click();
  await page.getByRole("button", { name: "Send a test to Foreman" }).click();
  // Nothing listens at that port: it is tried again, and says so meanwhile.
  await page.locator("[data-test=waiting]", { hasText: "webhook: on its way" }).waitFor();
  await page.context().close();
}, 60_000);

test("when nobody can be reached the page says so first of all", async () => {
  const page = await (await freshContext(shop.browser, "laptop", "dark")).newPage();
  const [one] = await listed();
  await page.route("**/api/v1/alarms", (route) =>
    route.fulfill({
      json: {
        alarms: [
          {
            ...one,
            id: "boatyard~nobody-reachable~abc",
            station: null,
            condition: "nobody-reachable",
            title: "Nobody can be reached",
          },
        ],
      },
    }),
  );
  await page.goto(`${shop.gateway.url}/#/alarms`);
  await page.locator("[data-condition=nobody-reachable]", { hasText: "The whole shop" }).waitFor();
  await page.locator("[data-field=unreachable]").waitFor();
  expect(await violations(page)).toEqual([]);
  await page.context().close();
}, 60_000);

test.each(looksOf(0))(
  "accessible and within its window: $size, $scheme",
  { tags: ["looks"], timeout: 60_000 },
  async ({ size, scheme }) => {
    const page = await open("#/alarms", size, scheme);
    await page.locator("[data-benchmark]").first().waitFor();
    await keepPicture(page, join(artefacts, `alarms-${size}-${scheme}.png`), true);
    expect(await violations(page)).toEqual([]);
    expect(await sideways(page)).toBeLessThanOrEqual(0);
    const small = await page.evaluate(() =>
      [...document.querySelectorAll<HTMLElement>(".alarm-acts .button")]
        .filter((element) => element.getBoundingClientRect().height < 64)
        .map((element) => element.outerHTML.slice(0, 100)),
    );
    expect(small).toEqual([]);
    for (const link of await page.locator(".alarm-place a, .alarm-title a").all()) {
      expect(await link.evaluate(reachPx)).toBeGreaterThanOrEqual(44);
    }
    await page.context().close();
  },
);

/** How tall a link is to a tap, px: beyond its text too. */
function reachPx(link: HTMLElement): number {
  // In the middle: at an edge of the window part of what a tap reaches is outside it.
  link.scrollIntoView({ block: "center" });
  const box = link.getBoundingClientRect();
  const [x, middle] = [box.left + 10, (box.top + box.bottom) / 2];
  const hit = (y: number) => link.contains(document.elementFromPoint(x, y));
  let [top, bottom] = [middle, middle];
  while (hit(top - 1)) top--;
  while (hit(bottom + 1)) bottom++;
  return Math.round(bottom - top + 1);
}

test("what was put away shows though no alarm of it stands, and is brought back", async () => {
  const page = await (await freshContext(shop.browser, "phone", "light")).newPage();
  const entry = {
    site: "boatyard",
    station: null,
    condition: "leak",
    kind: "out-of-service",
    since: "2025-11-25T08:00:00.000Z",
    until: null,
    by: "Ada",
    note: "hose apart",
  };
  let putAway = [entry];
  const asked: unknown[] = [];
  await page.route("**/api/v1/alarms", (route) => route.fulfill({ json: { alarms: [], putAway } }));
  await page.route("**/api/v1/alarms/put-back", (route) => {
    asked.push(route.request().postDataJSON());
    putAway = [];
    return route.fulfill({ json: { alarms: [], putAway } });
  });
  await page.goto(`${shop.gateway.url}/#/alarms`);
  const card = page.locator('[data-put-away="leak"]');
  await card.waitFor();
  expect(await card.textContent()).toContain("out of service by Ada");
  expect(await card.textContent()).toContain("hose apart");
  expect(await violations(page)).toEqual([]);
  expect(await sideways(page)).toBeLessThanOrEqual(0);
  await card.getByRole("button").click();
  const dialog = page.getByRole("dialog");
  await dialog.getByRole("textbox").fill("Ben");
  await dialog.getByRole("button", { name: "Bring it back" }).click();
  await card.waitFor({ state: "detached" });
  expect(asked).toEqual([{ site: "boatyard", station: null, condition: "leak", by: "Ben" }]);
});
