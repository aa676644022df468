import type { AlarmList, PutAwayView } from "@leeward/shared-core/api/alarms.ts";
import { useState } from "preact/hooks";
import type { Answer } from "../api/client.ts";
import { conditionTitle } from "../display/alarm-text.ts";
import { alarmsWords as text } from "../language/alarms-words.ts";
import { Dialog } from "../shell/dialog.tsx";
import { DialogFooter } from "../shell/dialog-footer.tsx";
import { NameField } from "../shell/name-field.tsx";
import { keepName, recallName } from "../shell/person.ts";
import { placeName, when } from "./alarm-card.tsx";
import { type Contact, putBack } from "./alarms-api.ts";

/** What people have put away while no alarm of it stands, each with its way back. */
export function PutAwayList(props: {
  entries: readonly PutAwayView[];
  contacts: readonly Contact[];
  onChange: (list: AlarmList) => void;
}) {
  const [chosen, setChosen] = useState<PutAwayView | null>(null);
  if (props.entries.length === 0) return null;
  return (
    <section class="alarm-group" data-group="put-away">
      <h2 class="alarm-group-title">{text.putAway.title}</h2>
      <p>{text.putAway.note}</p>
      {props.entries.map((entry) => {
        const title = conditionTitle(entry.condition);
        return (
          <article
            key={`${entry.station ?? entry.site} ${entry.condition}`}
            class="alarm alarm-quiet"
            aria-label={title}
            data-put-away={entry.condition}
          >
            <span class="alarm-urgency" />
            <div class="alarm-text">
              <p class="alarm-place">{placeName(entry.station)}</p>
              <h3 class="alarm-title">{title}</h3>
              <p class="alarm-facts">
                <span>
                  {entry.until === null
                    ? text.outBy(entry.by)
                    : text.awayUntil(entry.by, when(entry.until))}
                </span>
                <span>{text.since(when(entry.since))}</span>
                {entry.note && <span>{text.note(entry.note)}</span>}
              </p>
            </div>
            <div class="alarm-acts">
              <button type="button" class="button button-glove" onClick={() => setChosen(entry)}>
                {text.acts.back}
                <span class="visually-hidden">: {title}</span>
              </button>
            </div>
          </article>
        );
      })}
      {chosen && (
        <BackDialog
          entry={chosen}
          contacts={props.contacts}
          onDone={props.onChange}
          onClose={() => setChosen(null)}
        />
      )}
    </section>
  );
}

/** Who brings it back. */
function BackDialog(props: {
  entry: PutAwayView;
  contacts: readonly Contact[];
  onDone: (list: AlarmList) => void;
  onClose: () => void;
}) {
  const { entry, contacts } = props;
  const [name, setName] = useState(recallName);
  const [answer, setAnswer] = useState<Answer<AlarmList> | null>(null);
  const [sending, setSending] = useState(false);

  async function send(): Promise<void> {
    const by = name.trim();
    setSending(true);
    const result = await putBack(entry, by);
    setSending(false);
    setAnswer(result);
    if (!result.ok) return;
    keepName(by);
    props.onClose();
    props.onDone(result.value);
  }

  return (
    <Dialog title={text.backTitle} onClose={props.onClose}>
      <p>
        <strong>
          {placeName(entry.station)}: {conditionTitle(entry.condition)}
        </strong>
      </p>
      <p class="quiet">{text.putAway.backNote}</p>
      <NameField name={name} known={contacts.map((one) => one.name)} onChange={setName} />
      <DialogFooter answer={answer} onClose={props.onClose}>
        <button
          type="button"
          class="button button-glove button-strong"
          disabled={sending || name.trim() === ""}
          onClick={() => void send()}
        >
          {text.acts.back}
        </button>
      </DialogFooter>
    </Dialog>
  );
}
