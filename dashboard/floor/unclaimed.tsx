import type { StoodAt, UnclaimedNode } from "@leeward/shared-core/api/stations.ts";
import { IDLE_LIMIT_S } from "@leeward/shared-core/estimation/age-limit.ts";
import { nowS, stations, timeZone } from "../api/store.ts";
import { ageInWords, momentInWords } from "../display/durations.ts";
import {
  type FreeNode,
  isSetAside,
  placeOf,
  sampleAgeS,
  speaksAgain,
} from "../display/former-node.ts";
import { linePressureText, pressureText, temperatureText } from "../display/numbers.ts";
import { setupNodeHref } from "../display/route.ts";
import type { UnitChoice } from "../display/units.ts";
import { words } from "../language/words.ts";

/** Nodes that report and belong to nobody yet: raw pressures, and one way to claim each. */
export function Unclaimed({
  nodes,
  units,
}: {
  nodes: readonly UnclaimedNode[];
  units: UnitChoice;
}) {
  if (nodes.length === 0) return null;
  const offered = nodes.filter((node) => !isSetAside(node, nowS.value));
  return (
    <div class="unclaimed">
      <Offered nodes={offered} units={units} />
      <SetAside nodes={nodes} />
    </div>
  );
}

function Offered({ nodes, units }: { nodes: readonly UnclaimedNode[]; units: UnitChoice }) {
  if (nodes.length === 0) return null;
  return (
    <section aria-labelledby="unclaimed-title">
      <h2 id="unclaimed-title">{words.floor.unclaimedTitle}</h2>
      <p class="quiet">{words.floor.unclaimedNote}</p>
      <ul class="unclaimed-list">
        {nodes.map((node) => (
          <li
            key={`${node.site}/${node.node}`}
            class={`unclaimed-node${sampleAgeS(node, nowS.value) > IDLE_LIMIT_S ? " unclaimed-old" : ""}`}
            data-node={node.node}
          >
            <h3>
              {node.node} <small>{node.site}</small>
            </h3>
            <dl>
              {Object.entries(node.measured).map(([channel, value]) => (
                <div key={channel}>
                  <dt>{channelName(channel)}</dt>
                  <dd data-channel={channel}>{measuredText(channel, value, units)}</dd>
                </div>
              ))}
            </dl>
            <p class="quiet">
              {node.lastSample === null
                ? words.state.noData
                : words.floor.lastSample(ageInWords(sampleAgeS(node, nowS.value)))}
            </p>
            {node.stood && <p data-field="stood">{stoodText(node.site, node)}</p>}
            <a class="button" href={setupNodeHref(node.site, node.node)}>
              {words.floor.claim}
            </a>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** Where a free node stood before, and whether it speaks again; empty where it never stood anywhere. */
export function stoodText(site: string, node: FreeNode): string {
  if (!node.stood) return "";
  const stood = words.floor.stood(...stoodAt(site, node.stood));
  return speaksAgain(node, nowS.value) ? `${stood} ${words.floor.speaksAgain}` : stood;
}

/** Name of the place where a node stood, and until when. */
function stoodAt(site: string, stood: StoodAt): [place: string, until: string] {
  const place = placeOf(site, stood);
  const name =
    "supply" in place
      ? place.supply
      : (stations.value.get(place.station)?.name ?? place.station.split(".")[1] ?? "");
  return [name, momentInWords(Date.parse(stood.until) / 1000, nowS.value, timeZone.value)];
}

/** Nodes that were replaced or taken away and are silent: told, and not offered as new. */
export function SetAside({ nodes }: { nodes: readonly UnclaimedNode[] }) {
  const aside = nodes.filter((node) => isSetAside(node, nowS.value));
  if (aside.length === 0) return null;
  return (
    <section class="set-aside" aria-labelledby="set-aside-title" data-field="set-aside">
      <h2 id="set-aside-title">{words.floor.asideTitle}</h2>
      <p class="quiet">{words.floor.asideNote}</p>
      <ul>
        {aside.map(({ site, node, stood, ...one }) => (
          <li key={`${site}/${node}`} data-node={node}>
            {stood &&
              words.floor.aside(
                node,
                ...stoodAt(site, stood),
                ageInWords(sampleAgeS(one, nowS.value)),
              )}
          </li>
        ))}
      </ul>
    </section>
  );
}

function channelName(channel: string): string {
  const names: Readonly<Record<string, string>> = words.floor.channels;
  return names[channel] ?? channel;
}

function measuredText(
  channel: string,
  value: number | boolean | string,
  units: UnitChoice,
): string {
  if (typeof value === "boolean") return value ? words.floor.yes : words.floor.no;
  if (typeof value === "string") return value;
  if (channel === "line-pressure") return linePressureText(value, units);
  if (channel.endsWith("pressure")) return pressureText(value, units);
  if (channel.endsWith("temperature")) return temperatureText(value, units);
  if (channel === "supply-voltage") return `${value.toFixed(1)} V`;
  if (channel === "cylinder-mass") return `${value.toFixed(1)} kg`;
  return String(value);
}
