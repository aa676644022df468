import { useRef } from "preact/hooks";

/**
 * The object drawn last while the new one says the same: what is drawn from it need not be compared
 * with the page again. For small plain objects.
 */
export function useSame<T>(value: T): T {
  const last = useRef<{ value: T; text: string } | null>(null);
  const text = JSON.stringify(value);
  if (last.current?.text !== text) last.current = { value, text };
  return last.current.value;
}
