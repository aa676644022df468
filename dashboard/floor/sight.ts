import { type Signal, signal } from "@preact/signals";
import { watch } from "../api/live.ts";

/** How far around the screen a tile counts as in sight, so that it is right when it comes in. */
const AROUND = "30%";

const seen = new Map<string, Signal<boolean>>();
const ids = new WeakMap<Element, string>();
let observer: IntersectionObserver | null = null;
let telling = 0;

/** Whether this station's tile is in sight, or nearly. */
export function sightOf(id: string): Signal<boolean> {
  let sight = seen.get(id);
  if (!sight) {
    sight = signal(false);
    seen.set(id, sight);
  }
  return sight;
}

function tell(): void {
  clearTimeout(telling);
  telling = window.setTimeout(() => {
    watch([...seen].filter(([, sight]) => sight.peek()).map(([id]) => id));
  }, 50);
}

/** Watches a tile's place on the screen; returns what ends it. */
export function keepInSight(element: Element, id: string): () => void {
  observer ??= new IntersectionObserver(
    (entries) => {
      for (const entry of entries) {
        const of = ids.get(entry.target);
        if (of !== undefined) sightOf(of).value = entry.isIntersecting;
      }
      tell();
    },
    { rootMargin: AROUND },
  );
  ids.set(element, id);
  observer.observe(element);
  return () => {
    observer?.unobserve(element);
    sightOf(id).value = false;
    tell();
  };
}

/** A page that shows one station has that one in sight. */
export function onlyInSight(id: string): () => void {
  sightOf(id).value = true;
  tell();
  return () => {
    sightOf(id).value = false;
    tell();
  };
}
