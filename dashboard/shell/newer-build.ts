/** For which program this window was loaded anew already: it does so once. */
const KEY = "leeward.loaded-anew-for";

/** The script with which this page began, as the page names it. */
const ownEntry = (): string | null =>
  document.querySelector('script[type="module"][src]')?.getAttribute("src") ?? null;

/** Whether the gateway serves another program than this page is of; past every cache. */
async function isNewer(entry: string): Promise<boolean> {
  try {
    const page = await fetch(`./?now=${Date.now()}`, { cache: "no-store" });
    const html = await page.text();
    return page.ok && html.includes('id="app"') && !html.includes(entry);
  } catch {
    return false;
  }
}

/**
 * Loads the whole page anew where the gateway has another program by now, which no longer has the parts
 * of this one. For a page that one has just come to, where nothing is typed yet. Resolves with false
 * where it would not help, or was done once.
 */
export async function loadNewer(): Promise<boolean> {
  const entry = ownEntry();
  if (entry === null || !(await isNewer(entry))) return false;
  try {
    if (sessionStorage.getItem(KEY) === entry) return false;
    sessionStorage.setItem(KEY, entry);
  } catch {
    // Where nothing can be remembered it might go on for ever.
    return false;
  }
  location.reload();
  return true;
}
