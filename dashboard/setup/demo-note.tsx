import { speed, stations } from "../api/store.ts";
import { fixed } from "../display/numbers.ts";
import { setupWords as text } from "../language/setup-words.ts";

/**
 * What becomes of the demo once a station of one's own is saved, or why none can be; nothing where
 * there is no demo. `short`: where a form follows, which Setup's first page has led to.
 */
export function DemoNote({ short = false }: { short?: boolean }) {
  const list = [...stations.value.values()];
  if (!list.some((view) => view.virtual)) return null;
  // Said before anything is typed: the gateway refuses a real station while its clock is not real.
  if (speed.value !== 1) {
    return (
      <p class="noted" data-field="demo-fast">
        {text.demo.fast(fixed(speed.value, speed.value < 1 ? 1 : 0))}
      </p>
    );
  }
  const own = list.some((view) => !view.virtual);
  return (
    <p class="noted" data-field="demo-ends" data-own={own}>
      {short ? text.demo[own ? "endsShort" : "willEndShort"] : text.demo[own ? "ends" : "willEnd"]}
    </p>
  );
}
