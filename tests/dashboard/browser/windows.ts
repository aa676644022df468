import type { Browser, BrowserContext, BrowserContextOptions, Page } from "playwright-core";

/** A window that was closed: empty, with one blank page, and nothing remembered. */
interface Idle {
  context: BrowserContext;
  blank: Page;
}

const idle = new WeakMap<Browser, Map<string, Idle[]>>();

/**
 * A window with nothing remembered, as `browser.newContext` gives it. One that a test has closed is
 * emptied and lent again, with the files that it fetched, since a new one is half of the work of
 * showing a page. Scripts and functions put into a window stay there: whoever does that takes
 * `newContext`.
 */
export async function lentWindow(
  browser: Browser,
  options: BrowserContextOptions,
): Promise<BrowserContext> {
  const { viewport, colorScheme, ...rest } = options;
  // Service workers hold a page's files, and outlive it.
  if (options.serviceWorkers !== "block") return browser.newContext(options);
  const kinds = idle.get(browser) ?? new Map<string, Idle[]>();
  idle.set(browser, kinds);
  const kind = JSON.stringify(rest);
  const free = kinds.get(kind) ?? [];
  kinds.set(kind, free);
  const lent = free.pop();
  const context = lent?.context ?? (await browser.newContext(options));
  const { newPage } = Object.getPrototypeOf(context) as BrowserContext;
  let blank = lent?.blank;
  context.newPage = async () => {
    const page = blank ?? (await newPage.call(context));
    blank = undefined;
    await page.setViewportSize(viewport ?? { width: 1280, height: 720 });
    await page.emulateMedia({ colorScheme: colorScheme ?? "light" });
    return page;
  };
  context.close = async () => {
    const pages = context.pages();
    const fresh = await newPage.call(context);
    // A page that still runs could write again.
    await Promise.all(pages.map((page) => page.close()));
    await forgetAll(fresh, new Set(pages.map((page) => new URL(page.url()).origin)));
    free.push({ context, blank: fresh });
  };
  return context;
}

async function forgetAll(page: Page, origins: Set<string>): Promise<void> {
  const context = page.context();
  const session = await context.newCDPSession(page);
  for (const origin of origins) {
    if (origin === "null") continue;
    await session.send("Storage.clearDataForOrigin", { origin, storageTypes: "all" });
  }
  await session.detach();
  await context.clearCookies();
  await context.clearPermissions();
  await context.unrouteAll();
  await context.setOffline(false);
}
