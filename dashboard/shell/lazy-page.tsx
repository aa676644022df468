import { signal } from "@preact/signals";
import type { ComponentType } from "preact";
import { useEffect } from "preact/hooks";
import { words } from "../language/words.ts";

/**
 * A page that comes as a chunk of its own when it is first opened: the first view does without it.
 *
 * @param onShown called when it stands on the screen
 */
export function lazyPage<P extends object>(
  load: () => Promise<ComponentType<P>>,
  onShown?: () => void,
) {
  const loaded = signal<ComponentType<P> | null>(null);
  const failed = signal(false);
  return function LazyPage(props: P) {
    useEffect(() => {
      if (loaded.value) return;
      load().then(
        (component) => {
          loaded.value = component;
        },
        () => {
          failed.value = true;
        },
      );
    }, []);
    const Page = loaded.value;
    useEffect(() => {
      if (Page) onShown?.();
    }, [Page]);
    if (Page) return <Page {...props} />;
    return (
      <p class="empty" role={failed.value ? "alert" : undefined}>
        {failed.value ? words.state.pageMissing : words.state.loadingPage}
      </p>
    );
  };
}
