/**
 * Calls when the colours in use have changed, by the device or by one's own choice: what is drawn on
 * a canvas keeps its old ones. Returns what ends it.
 */
export function onLookChange(changed: () => void): () => void {
  const dark = matchMedia("(prefers-color-scheme: dark)");
  dark.addEventListener("change", changed);
  const chosen = new MutationObserver(changed);
  chosen.observe(document.documentElement, { attributes: true, attributeFilter: ["data-theme"] });
  return () => {
    dark.removeEventListener("change", changed);
    chosen.disconnect();
  };
}
