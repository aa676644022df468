import type { ComponentChildren } from "preact";
import { useNarrow } from "../shell/narrow.ts";

/** A card of the Bench; on a phone it is folded until somebody wants it. */
export function Fold(props: {
  title: string;
  /** What stands beside the title while it is folded. */
  aside?: string;
  field?: string;
  children: ComponentChildren;
}) {
  const { title, aside, field, children } = props;
  if (!useNarrow()) {
    return (
      <section class="card bench-card no-print" data-field={field}>
        <h2 class="card-title">{title}</h2>
        {children}
      </section>
    );
  }
  return (
    <details class="bench-fold no-print" data-field={field}>
      <summary>
        <h2 class="card-title">{title}</h2>
        {aside && <small>{aside}</small>}
      </summary>
      <div class="bench-folded">{children}</div>
    </details>
  );
}

/** Fields that few need; in sight where there is room. */
export function More({ title, children }: { title: string; children: ComponentChildren }) {
  if (!useNarrow()) return <>{children}</>;
  return (
    <details class="bench-more">
      <summary>{title}</summary>
      <div class="fields">{children}</div>
    </details>
  );
}
