import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { useState } from "preact/hooks";
import { type Answer, getStations, putStation } from "../api/client.ts";
import { stations, takeList } from "../api/store.ts";
import { stationHref } from "../display/route.ts";
import { setupWords } from "../language/setup-words.ts";
import { SelectField } from "../shell/fields.tsx";
import { ProblemNote } from "../shell/problem-note.tsx";
import { withOtherNode } from "./other-node.ts";

/** One tap: a node for a station that is here, because its own was replaced or never there. */
export function GiveNode({ site, node }: { site: string; node: string }) {
  const text = setupWords.node;
  const choices = [...stations.value.values()].filter((one) => one.site === site && !one.virtual);
  const free = choices.find((one) => one.description.node == null);
  const [chosen, setChosen] = useState(free?.id ?? choices[0]?.id ?? "");
  const [answer, setAnswer] = useState<Answer<StationView> | null>(null);
  const [sending, setSending] = useState(false);
  const before = stations.value.get(chosen)?.description.node ?? null;

  async function give(): Promise<void> {
    const view = stations.value.get(chosen);
    if (!view) return;
    setSending(true);
    const result = await putStation(view.id, withOtherNode(view.description, node), view.version);
    setSending(false);
    setAnswer(result);
    if (!result.ok) return;
    const list = await getStations();
    if (list.ok) takeList(list.value);
    location.hash = stationHref(view.id);
  }

  return (
    <div class="setup-card">
      <SelectField
        label={text.existing}
        value={chosen}
        options={choices.map((view) => ({
          value: view.id,
          text: `${view.name} (${view.description.node ? text.replaces(view.description.node) : text.noNode})`,
        }))}
        onChange={setChosen}
      />
      {before && (
        <p class="noted" data-field="node-replaced">
          {text.replaced(before)}
        </p>
      )}
      <ProblemNote answer={answer} />
      <div>
        <button type="button" class="button button-strong" disabled={sending} onClick={give}>
          {text.give}
        </button>
      </div>
    </div>
  );
}
