import type { ComponentChildren } from "preact";
import { useState } from "preact/hooks";
import { connection, fromMemory, lastHeardS, nowS, shop, speed, timeZone } from "../api/store.ts";
import { clockTime } from "../display/durations.ts";
import { fixed } from "../display/numbers.ts";
import { words } from "../language/words.ts";
import { units } from "../settings/settings.ts";
import { SettingsDialog } from "../settings/settings-dialog.tsx";

/** The line on top: where one is, whose shop, in which units, and whether it is live. */
export function Header(props: { kind?: "station"; children: ComponentChildren }) {
  const { kind, children } = props;
  const [settings, setSettings] = useState(false);
  const { flow, reference } = units.value;
  const site = shop.value;
  return (
    <header class={kind ? `header ${kind}-header` : "header"}>
      <div class="header-left">{children}</div>
      <div class="header-right">
        {site && <span class="header-site">{site.site.name}</span>}
        {site?.demo.virtual && (
          <span class="tag" title={words.state.virtualTitle}>
            {words.state.virtualShop}
            {speed.value !== 1 && `, ${words.state.demoSpeed(fixed(speed.value, 0))}`}
          </span>
        )}
        <button type="button" class="link-button" onClick={() => setSettings(true)}>
          {words.units.open(flow, words.units.references[reference])}
        </button>
      </div>
      <LinkState />
      {settings && <SettingsDialog onClose={() => setSettings(false)} />}
    </header>
  );
}

/** `live 14:29`, or that it is not. */
function LinkState() {
  const time = clockTime(nowS.value, timeZone.value);
  if (connection.value === "live") {
    return (
      <span class="link-state" data-connection="live">
        <span class="link-dot" aria-hidden="true" />
        {words.state.live} <time data-field="clock">{time}</time>
      </span>
    );
  }
  return (
    <span class="link-state" data-connection={connection.value}>
      <span class="link-dot link-dot-hollow" aria-hidden="true" />
      {connection.value === "lost" ? words.state.notLive : words.state.connecting}
    </span>
  );
}

/** Across the page, in plain sight: the gateway does not answer, or is not ready yet. */
export function LostBanner() {
  const lost = connection.value === "lost";
  const heard = lastHeardS.value;
  const starting = shop.value?.starting;
  return (
    <div role="status" aria-live="assertive" class="lost-slot">
      {!lost && starting && (
        <p class="starting" data-field="starting">
          {words.state.starting(
            words.state.startingWith[starting.state] ?? starting.state,
            fixed(starting.progress * 100, 0),
          )}
        </p>
      )}
      {lost && (
        <p class="lost" data-field="lost">
          <strong>{words.state.lostTitle}</strong>{" "}
          {heard === null || (fromMemory.value && !shop.value)
            ? words.state.lostNever
            : words.state.lostSince(clockTime(heard, timeZone.value))}
        </p>
      )}
    </div>
  );
}
