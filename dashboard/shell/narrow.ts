import { useEffect, useState } from "preact/hooks";

/** A phone held upright; the style sheets fold at the same width. */
const NARROW = "(max-width: 600px)";

/** Whether the window is a phone's. */
export function useNarrow(): boolean {
  const [narrow, setNarrow] = useState(() => matchMedia(NARROW).matches);
  useEffect(() => {
    const query = matchMedia(NARROW);
    const look = () => setNarrow(query.matches);
    query.addEventListener("change", look);
    return () => query.removeEventListener("change", look);
  }, []);
  return narrow;
}
