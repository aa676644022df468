import type { Page } from "playwright-core";

/** Where the time goes from the click on a span until its chart stands there, ms. */
export interface YearDrawn {
  /** From the click event until the frame with the chart was handed to the screen. */
  all: number;
  /** Of it, until the gateway's answer began: the query and whatever the gateway did before it. */
  gateway: number;
  /** Of it, the longest task of the page's main thread. */
  longestTask: number;
}

/** In the page: notes when it was clicked, when the year was drawn and its longest task. */
const watch = `
  window.seen = { clicked: 0, drawn: 0, longest: 0 };
  performance.clearResourceTimings();
  new PerformanceObserver((list) => {
    for (const { duration } of list.getEntries()) seen.longest = Math.max(seen.longest, duration);
  }).observe({ entryTypes: ["longtask"] });
  addEventListener("click", (event) => { seen.clicked ||= event.timeStamp; }, { capture: true });
  const chart = document.querySelector(".chart");
  new MutationObserver(() => {
    if (chart.dataset.span !== "1y" || seen.drawn > 0) return;
    // After the next frame has been made.
    requestAnimationFrame(() => setTimeout(() => { seen.drawn ||= performance.now(); }));
  }).observe(chart, { attributes: true });
  undefined`;

const figures = `(async () => {
  while (seen.drawn === 0) await new Promise((done) => setTimeout(done, 10));
  const history = performance.getEntriesByType("resource").find(({ name }) => name.includes("/history?"));
  return {
    all: seen.drawn - seen.clicked,
    gateway: history ? history.responseStart - history.requestStart : NaN,
    longestTask: seen.longest,
  };
})()`;

/**
 * Clicks on "1 year" and measures in the page, by its own clock: what drives the browser from
 * outside waits for frames and other processes of its own, which no user does.
 */
export async function yearDrawn(page: Page): Promise<YearDrawn> {
  const button = page.getByRole("button", { name: "1 year" });
  await button.scrollIntoViewIfNeeded();
  await page.evaluate(watch);
  await button.click();
  return page.evaluate(figures);
}
