import { signal } from "@preact/signals";
import type { ComponentType } from "preact";
import { useEffect } from "preact/hooks";
import { words } from "../language/words.ts";
import { LoadAgain } from "./load-again.tsx";
import { loadNewer } from "./newer-build.ts";

/**
 * A page that comes as a chunk of its own when it is first opened: the first view does without it.
 *
 * @param whole of a whole page, to which one has just come: what it is told when it stands on the screen;
 *   where the gateway has a newer program by then, that is loaded. A part of a page never does so, since
 *   something may have been typed there.
 */
export function lazyPage<P extends object>(
  load: () => Promise<ComponentType<P>>,
  whole?: { onShown: () => void },
) {
  const loaded = signal<ComponentType<P> | null>(null);
  const failed = signal(false);
  return function LazyPage(props: P) {
    useEffect(() => {
      if (loaded.value) return;
      failed.value = false;
      load().then(
        (component) => {
          loaded.value = component;
        },
        async () => {
          if (whole && (await loadNewer())) return;
          failed.value = true;
        },
      );
    }, []);
    const Page = loaded.value;
    useEffect(() => {
      if (Page) whole?.onShown();
    }, [Page]);
    if (Page) return <Page {...props} />;
    return failed.value ? <LoadAgain /> : <p class="empty">{words.state.loadingPage}</p>;
  };
}
