import { useEffect, useState } from "preact/hooks";
import { order, shop } from "../api/store.ts";
import { words } from "../language/words.ts";
import { units } from "../settings/settings.ts";
import { Header } from "../shell/header.tsx";
import { Nav } from "../shell/nav.tsx";
import { SiteAlarms } from "./site-alarms.tsx";
import { Tile } from "./tile.tsx";
import { Unclaimed } from "./unclaimed.tsx";

/** Tiles made with the page itself, and with each frame after it: two hundred at once would stall it. */
const FIRST_TILES = 12;
const TILES_A_FRAME = 3;

/** How many tiles are there so far. */
function useTilesSoFar(all: number): number {
  const [made, setMade] = useState(FIRST_TILES);
  useEffect(() => {
    if (made >= all) return;
    const frame = requestAnimationFrame(() => setMade(made + TILES_A_FRAME));
    return () => cancelAnimationFrame(frame);
  }, [made, all]);
  return made;
}

/** All stations, neediest first. */
export function Floor() {
  const list = order.value;
  const made = useTilesSoFar(list.length);
  const site = shop.value;
  return (
    <>
      <Header>
        <span class="product">{words.productName}</span>
        <Nav here="floor" />
        <a class="wall-link" href="#/wall">
          {words.nav.wall}
        </a>
      </Header>
      <main id="content" class="floor" tabIndex={-1}>
        <h1 class="visually-hidden">{words.floor.title}</h1>
        <SiteAlarms linked />
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
          {list.slice(0, made).map((id) => (
            <Tile key={id} id={id} linked />
          ))}
        </div>
        {site && <Unclaimed nodes={site.unclaimed} units={units.value} />}
      </main>
    </>
  );
}
