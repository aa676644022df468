import { expect, test } from "vitest";
import { getList } from "./gateway-process.ts";
import { sizes } from "./page-checks.ts";
import { sharedShop, shopInBrowser } from "./shop-in-browser.ts";

// The gateway sends a strict content security policy: what breaks it shows only in the console.

const shop = shopInBrowser(sharedShop);

/** Opens pages one after the other with the service worker at work; answers what was complained. */
async function complaints(hashes: readonly string[], spoil = false): Promise<string[]> {
  const context = await shop.browser.newContext({ viewport: sizes.laptop, locale: "en-GB" });
  const found: string[] = [];
  let at = "";
  await context.exposeFunction("policyBroken", (what: string) => found.push(`${at}: ${what}`));
  await context.addInitScript(() => {
    document.addEventListener("securitypolicyviolation", (event) => {
      const tell = (window as unknown as { policyBroken(what: string): void }).policyBroken;
      tell(`${event.violatedDirective} ${event.blockedURI}`);
    });
  });
  context.on("console", (message) => {
    if (["error", "warning"].includes(message.type())) found.push(`${at}: ${message.text()}`);
  });
  context.on("weberror", (error) => found.push(`${at}: ${error.error().message}`));
  for (const hash of hashes) {
    at = hash;
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
  }
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
