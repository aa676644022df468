import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { getList } from "./gateway-process.ts";
import { sizes } from "./page-checks.ts";
import { sharedShop, shopInBrowser } from "./shop-in-browser.ts";

// The gateway sends a strict content security policy: what breaks it shows only in the console.

const shop = shopInBrowser(sharedShop);

/** Pages that are open at a time: each mostly waits for what may still be complained. */
const atOnce = 4;

/** Opens pages with the service worker at work, the first alone; answers what was complained, and where. */
async function complaints(hashes: readonly string[], spoil = false): Promise<string[]> {
  const context = await shop.browser.newContext({ viewport: sizes.laptop, locale: "en-GB" });
  const found: string[] = [];
  const tell = (page: Page | null | undefined, what: string) =>
    found.push(`${page?.url() ?? "a worker"}: ${what}`);
  await context.exposeBinding("policyBroken", ({ page }, what: string) => tell(page, what));
  await context.addInitScript(() => {
    document.addEventListener("securitypolicyviolation", (event) => {
      const tell = (window as unknown as { policyBroken(what: string): void }).policyBroken;
      tell(`${event.violatedDirective} ${event.blockedURI}`);
    });
  });
  context.on("console", (message) => {
    if (["error", "warning"].includes(message.type())) tell(message.page(), message.text());
  });
  context.on("weberror", (error) => tell(error.page(), error.error().message));
  const look = async (hash: string) => {
    const page = await context.newPage();
    const response = await page.goto(`${shop.gateway.url}/${hash}`);
    expect(response?.headers()["content-security-policy"]).toContain("default-src 'self'");
    await page.waitForFunction(
      () => (document.querySelector("main")?.textContent.length ?? 0) > 20,
    );
    await page.waitForLoadState("load");
    if (spoil) {
      await page.evaluate(() => {
        const script = document.createElement("script");
        script.textContent = "window.broken = true";
        document.body.append(script);
      });
    }
    await page.waitForTimeout(1200);
    await page.close();
  };
  const waiting = [...hashes];
  await look(waiting.shift() ?? "");
  await Promise.all(
    Array.from({ length: atOnce }, async () => {
      for (let hash = waiting.shift(); hash !== undefined; hash = waiting.shift()) await look(hash);
    }),
  );
  await context.close();
  return found;
}

test("no screen breaks the policy or complains in the console", async () => {
  const { stations } = await getList(shop.gateway.url);
  const ids = stations.map((view) => view.id);
  const one = ids[0] ?? "";
  const { alarms } = (await (await fetch(`${shop.gateway.url}/api/v1/alarms`)).json()) as {
    alarms: { id: string }[];
  };
  const hashes = [
    ...["#/", "#/wall", "#/rack", "#/ledger", "#/bench", "#/alarms", "#/look-back"],
    ...["#/setup", "#/setup/new", "#/setup/shop", "#/setup/phone"],
    ...[`#/setup/station/${one}`, `#/setup/label/${one}`, `#/look-back/${one}`],
    ...alarms.slice(0, 1).map(({ id }) => `#/alarms/${encodeURIComponent(id)}`),
    ...ids.map((id) => `#/station/${id}`),
  ];
  expect(await complaints(hashes)).toEqual([]);
}, 180_000);

test("the check hears of a script that the policy forbids", async () => {
  expect((await complaints(["#/"], true)).join()).toContain("script-src");
}, 60_000);
