import type { NodeView } from "@leeward/shared-core/api/setup.ts";
import { useEffect, useState } from "preact/hooks";
import { getNode, getNodes } from "./setup-api.ts";

const POLL_MS = 2000;

/** One node, asked for every two seconds; undefined until that is known, null until it was heard. */
export function useNode(site: string, node: string): NodeView | null | undefined {
  const [view, setView] = useState<NodeView | null | undefined>(undefined);
  useEffect(() => {
    const named = site !== "" && node !== "";
    setView(named ? undefined : null);
    if (!named) return;
    return polled(async (stopped) => {
      const answer = await getNode(`${site}.${node}`);
      if (stopped()) return;
      // An answer that does not come leaves the values to grow old by themselves.
      if (answer.ok) setView(answer.value);
      else if (answer.status === 404) setView(null);
    });
  }, [site, node]);
  return view;
}

const none: readonly NodeView[] = [];

/** All nodes, asked for every two seconds; `none` until they are known. */
export const useNodes = (): readonly NodeView[] => useKnownNodes() ?? none;

/** All nodes, asked for every two seconds; null until they are known. */
export function useKnownNodes(): readonly NodeView[] | null {
  const [nodes, setNodes] = useState<readonly NodeView[] | null>(null);
  useEffect(
    () =>
      polled(async (stopped) => {
        const answer = await getNodes();
        if (answer.ok && !stopped()) setNodes(answer.value.nodes);
      }),
    [],
  );
  return nodes;
}

/** Runs `ask` now and every two seconds, one at a time; returns what stops it. */
function polled(ask: (stopped: () => boolean) => Promise<void>): () => void {
  let over = false;
  let timer: ReturnType<typeof setTimeout> | undefined;
  const again = async () => {
    await ask(() => over);
    if (!over) timer = setTimeout(again, POLL_MS);
  };
  void again();
  return () => {
    over = true;
    clearTimeout(timer);
  };
}
