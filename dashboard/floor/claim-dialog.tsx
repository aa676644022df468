import type { StationView, UnclaimedNode } from "@leeward/shared-core/api/stations.ts";
import { useState } from "preact/hooks";
import { type Answer, getStations, putStation } from "../api/client.ts";
import { stations, takeList } from "../api/store.ts";
import { emptyForm, type NewStationForm, newStation } from "../display/new-station.ts";
import { words } from "../language/words.ts";
import { Choice } from "../shell/choice.tsx";
import { Dialog } from "../shell/dialog.tsx";
import { SelectField } from "../shell/fields.tsx";
import { ProblemNote } from "../shell/problem-note.tsx";
import { NewStationFields } from "./new-station-fields.tsx";

type Way = "existing" | "new";

/** Binds a node to a station that is here, or to a new one from a small form. */
export function ClaimDialog({ node, onClose }: { node: UnclaimedNode; onClose: () => void }) {
  const text = words.claim;
  const choices = [...stations.value.values()].filter((view) => view.site === node.site);
  const free = choices.find((view) => view.description.node == null);
  const [way, setWay] = useState<Way>(free ? "existing" : "new");
  const [chosen, setChosen] = useState(free?.id ?? choices[0]?.id ?? "");
  const [form, setForm] = useState<NewStationForm>(emptyForm);
  const [sending, setSending] = useState(false);
  const [answer, setAnswer] = useState<Answer<StationView> | null>(null);
  const [note, setNote] = useState("");

  async function save(): Promise<void> {
    setNote("");
    setAnswer(null);
    const view = stations.value.get(chosen);
    const fresh = newStation(node.site, node.node, form);
    if (way === "new" && !fresh) {
      setNote(text.badName);
      return;
    }
    setSending(true);
    const result =
      way === "existing" && view
        ? await putStation(view.id, { ...view.description, node: node.node }, view.version)
        : fresh
          ? await putStation(`${node.site}.${fresh.station}`, fresh, null)
          : null;
    setSending(false);
    if (!result) return;
    if (!result.ok) {
      setAnswer(result);
      if (result.status === 412) setNote(text.conflict);
      return;
    }
    const list = await getStations();
    if (list.ok) takeList(list.value);
    onClose();
  }

  return (
    <Dialog title={text.title(node.node)} onClose={onClose}>
      {choices.length > 0 && (
        <Choice
          label={text.station}
          name="claim-way"
          value={way}
          options={[
            { value: "existing", text: text.toExisting },
            { value: "new", text: text.toNew },
          ]}
          onChange={setWay}
        />
      )}
      {way === "existing" ? (
        <SelectField
          label={text.station}
          value={chosen}
          options={choices.map((view) => ({
            value: view.id,
            text: `${view.name} (${view.description.node ? text.replaces(view.description.node) : text.noNode})`,
          }))}
          onChange={setChosen}
        />
      ) : (
        <NewStationFields form={form} onChange={setForm} />
      )}
      {note && (
        <p class="problem" role="alert">
          {note}
        </p>
      )}
      <ProblemNote answer={answer} />
      <div class="dialog-actions">
        <button type="button" class="button" onClick={onClose}>
          {text.cancel}
        </button>
        <button type="button" class="button button-strong" disabled={sending} onClick={save}>
          {sending ? words.actions.sending : text.save}
        </button>
      </div>
    </Dialog>
  );
}
