import { orderedStations, shop } from "../api/store.ts";
import { words } from "../language/words.ts";
import { units } from "../settings/settings.ts";
import { Header } from "../shell/header.tsx";
import { Tile } from "./tile.tsx";
import { Unclaimed } from "./unclaimed.tsx";

/** All stations, neediest first. */
export function Floor() {
  const list = orderedStations.value;
  const site = shop.value;
  return (
    <>
      <Header>
        <span class="product">{words.productName}</span>
        <nav aria-label={words.nav.label} class="nav">
          <a href="#/" aria-current="page">
            {words.nav.floor}
          </a>
          <a href="#/bench">{words.nav.bench}</a>
        </nav>
        <a class="wall-link" href="#/wall">
          {words.nav.wall}
        </a>
      </Header>
      <main id="content" class="floor" tabIndex={-1}>
        <h1 class="visually-hidden">{words.floor.title}</h1>
        {list.length === 0 && (
          <p class="empty">
            {site ? (
              <>
                <strong>{words.floor.empty}</strong> {words.floor.emptyNote}
              </>
            ) : (
              words.state.loading
            )}
          </p>
        )}
        <div class="tiles">
          {list.map((view) => (
            <Tile key={view.id} view={view} units={units.value} linked />
          ))}
        </div>
        {site && <Unclaimed nodes={site.unclaimed} units={units.value} />}
      </main>
    </>
  );
}
