import { stations } from "../api/store.ts";
import { setupWords as text } from "../language/setup-words.ts";

/** What becomes of the demo once a station of one's own is saved; nothing where there is no demo. */
export function DemoNote() {
  const list = [...stations.value.values()];
  if (!list.some((view) => view.virtual)) return null;
  const own = list.some((view) => !view.virtual);
  return (
    <p class="noted" data-field="demo-ends" data-own={own}>
      {own ? text.demo.ends : text.demo.willEnd}
    </p>
  );
}
