import { computed } from "@preact/signals";
import { stations } from "../api/store.ts";
import { words } from "../language/words.ts";

const pages = [
  { page: "floor", href: "#/" },
  { page: "alarms", href: "#/alarms" },
  { page: "look-back", href: "#/look-back" },
  { page: "rack", href: "#/rack" },
  { page: "ledger", href: "#/ledger" },
  { page: "bench", href: "#/bench" },
  { page: "setup", href: "#/setup" },
] as const;
export type NavPage = (typeof pages)[number]["page"];

const standing = computed(() =>
  [...stations.value.values()].reduce((sum, view) => sum + (view.estimate?.alarms.length ?? 0), 0),
);

/** The pages, with the one shown marked, and how many alarms stand. */
export function Nav({ here }: { here: NavPage }) {
  return (
    <nav aria-label={words.nav.label} class="nav nav-pages">
      {pages.map(({ page, href }) => (
        <a key={page} href={href} aria-current={page === here ? "page" : undefined}>
          {page === "alarms" && standing.value > 0
            ? words.nav.alarmsStanding(standing.value)
            : words.nav[page]}
        </a>
      ))}
    </nav>
  );
}
