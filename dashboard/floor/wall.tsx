import { useComputed } from "@preact/signals";
import { useEffect, useRef, useState } from "preact/hooks";
import { connection, nowS, order, shop, speed, stationOf, timeZone } from "../api/store.ts";
import { clockTime } from "../display/durations.ts";
import { fixed } from "../display/numbers.ts";
import { needRank } from "../display/urgency.ts";
import { pageAt, TILE_HEIGHT_EM, TILE_WIDTH_EM, wallGrid } from "../display/wall-grid.ts";
import { words } from "../language/words.ts";
import { units } from "../settings/settings.ts";
import { fitWall } from "./fit-wall.ts";
import { SiteAlarms } from "./site-alarms.tsx";
import { Tile } from "./tile.tsx";

/** Long enough to read the tiles of a page, short enough to come round. */
const PAGE_MS = 15_000;

/** The Floor for a screen that nobody touches: fills it, needs no scrolling, turns pages by itself. */
export function Wall() {
  const list = order.value;
  const [turn, setTurn] = useState(0);
  const [aspect, setAspect] = useState(innerWidth / innerHeight);
  const grid = wallGrid(list.length, aspect);
  const pages = Math.max(1, Math.ceil(list.length / grid.perPage));
  useEffect(() => {
    const timer = setInterval(() => setTurn((old) => old + 1), PAGE_MS);
    const resized = () => setAspect(innerWidth / innerHeight);
    addEventListener("resize", resized);
    return () => {
      clearInterval(timer);
      removeEventListener("resize", resized);
    };
  }, []);
  useEffect(keepAwake, []);
  const tiles = useRef<HTMLDivElement>(null);
  useEffect(() => (tiles.current ? fitWall(tiles.current) : undefined), []);
  const shown = pageAt(turn, pages, useComputed(() => needsSomebody(order.value[0])).value);
  const site = shop.value;
  return (
    <>
      <header class="header wall-header">
        <div class="header-left">
          <span class="product">{words.productName}</span>
          {site && <span class="header-site">{site.site.name}</span>}
          {site?.demo.virtual && (
            <span class="tag">
              {words.state.virtualShop}
              {speed.value !== 1 && `, ${words.state.demoSpeed(fixed(speed.value, 0))}`}
            </span>
          )}
        </div>
        <div class="header-right">
          {pages > 1 && <span>{words.floor.page(shown + 1, pages)}</span>}
          <a class="wall-link" href="#/">
            {words.nav.leaveWall}
          </a>
          <span>
            {words.units.open(units.value.flow, words.units.references[units.value.reference])}
          </span>
          <span class="link-state" data-connection={connection.value}>
            <span
              class={connection.value === "live" ? "link-dot" : "link-dot link-dot-hollow"}
              aria-hidden="true"
            />
            {connection.value === "live" ? words.state.live : words.state.notLive}{" "}
            {clockTime(nowS.value, timeZone.value)}
          </span>
        </div>
      </header>
      <main id="content" class="wall" tabIndex={-1}>
        <h1 class="visually-hidden">{words.floor.title}</h1>
        <SiteAlarms linked={false} />
        <div
          ref={tiles}
          class="wall-tiles"
          style={{
            "--wall-columns": grid.columns,
            "--wall-rows": grid.rows,
            "--tile-width": TILE_WIDTH_EM,
            "--tile-height": TILE_HEIGHT_EM,
          }}
        >
          {list.slice(shown * grid.perPage, (shown + 1) * grid.perPage).map((id) => (
            <Tile key={id} id={id} linked={false} />
          ))}
        </div>
      </main>
    </>
  );
}

/** Asks the browser not to darken the screen; where it cannot (plain http), the screen's own setting counts. */
function keepAwake(): () => void {
  let lock: WakeLockSentinel | null = null;
  let ended = false;
  const ask = () => {
    if (document.visibilityState !== "visible" || !("wakeLock" in navigator)) return;
    navigator.wakeLock.request("screen").then(
      (granted) => {
        lock = granted;
        if (ended) void granted.release();
      },
      () => undefined,
    );
  };
  ask();
  document.addEventListener("visibilitychange", ask);
  return () => {
    ended = true;
    document.removeEventListener("visibilitychange", ask);
    void lock?.release();
  };
}

/** Whether the first of all stations, the neediest, has an alarm. */
function needsSomebody(first: string | undefined): boolean {
  const estimate = first === undefined ? null : (stationOf(first)?.estimate ?? null);
  return estimate !== null && needRank(estimate.alarms) < 3;
}
