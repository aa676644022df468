import type { UnclaimedNode } from "@leeward/shared-core/api/stations.ts";
import { IDLE_LIMIT_S } from "@leeward/shared-core/estimation/age-limit.ts";
import { nowS } from "../api/store.ts";
import { ageInWords } from "../display/durations.ts";
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
  return (
    <section class="unclaimed" aria-labelledby="unclaimed-title">
      <h2 id="unclaimed-title">{words.floor.unclaimedTitle}</h2>
      <p class="quiet">{words.floor.unclaimedNote}</p>
      <ul class="unclaimed-list">
        {nodes.map((node) => (
          <li
            key={`${node.site}/${node.node}`}
            class={`unclaimed-node${ageS(node) > IDLE_LIMIT_S ? " unclaimed-old" : ""}`}
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
                : words.floor.lastSample(ageInWords(ageS(node)))}
            </p>
            <a class="button" href={setupNodeHref(node.site, node.node)}>
              {words.floor.claim}
            </a>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** Age of a node's newest sample, s. */
function ageS({ lastSample }: UnclaimedNode): number {
  if (lastSample === null) return Number.POSITIVE_INFINITY;
  return Math.max(0, nowS.value - Date.parse(lastSample) / 1000);
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
