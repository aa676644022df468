import type { AlarmView } from "@leeward/shared-core/api/alarms.ts";
import { useState } from "preact/hooks";
import type { Answer } from "../api/client.ts";
import { alarmText } from "../display/alarm-text.ts";
import { alarmsWords as text } from "../language/alarms-words.ts";
import { units } from "../settings/settings.ts";
import { Choice } from "../shell/choice.tsx";
import { Dialog } from "../shell/dialog.tsx";
import { DialogFooter } from "../shell/dialog-footer.tsx";
import { TextField } from "../shell/fields.tsx";
import { NameField } from "../shell/name-field.tsx";
import { keepName, recallName } from "../shell/person.ts";
import { type Act, act, type Contact } from "./alarms-api.ts";
import { awayChoices } from "./groups.ts";

export type ActKind = "seen" | "looked" | "away" | "back";

const OUT = "out";

/** Who does what about an alarm: by name, with a note; putting away has its limit. */
export function ActDialog(props: {
  alarm: AlarmView;
  kind: ActKind;
  contacts: readonly Contact[];
  onDone: (alarm: AlarmView) => void;
  onClose: () => void;
}) {
  const { alarm, kind, contacts } = props;
  const [name, setName] = useState(recallName);
  const [note, setNote] = useState("");
  const [span, setSpan] = useState<string>("60");
  const [answer, setAnswer] = useState<Answer<AlarmView> | null>(null);
  const [sending, setSending] = useState(false);
  const out = kind === "away" && span === OUT;

  async function send(): Promise<void> {
    const by = name.trim();
    setSending(true);
    const result = await act(alarm.id, toAct(kind, span, by, note.trim()));
    setSending(false);
    setAnswer(result);
    if (!result.ok) return;
    keepName(by);
    props.onDone(result.value);
    props.onClose();
  }

  const spans = [
    ...awayChoices(alarm.shelveLimitMin).map((minutes) => {
      const value = String(minutes);
      return { value, text: text.minutes[value as keyof typeof text.minutes] };
    }),
    { value: OUT, text: text.out },
  ];
  return (
    <Dialog title={text[`${kind}Title`]} onClose={props.onClose}>
      <p>
        <strong>{alarmText(alarm, units.value).title}</strong>
      </p>
      <p class="quiet">{out ? text.outNote : text[`${kind}Note`]}</p>
      {kind === "away" && (
        <Choice label={text.awayFor} name="away" value={span} options={spans} onChange={setSpan} />
      )}
      <NameField name={name} known={contacts.map((one) => one.name)} onChange={setName} />
      {kind !== "back" && (
        <TextField label={out ? text.noteNeeded : text.noteLabel} value={note} onChange={setNote} />
      )}
      <DialogFooter answer={answer} onClose={props.onClose}>
        <button
          type="button"
          class="button button-glove button-strong"
          disabled={sending || name.trim() === "" || (out && note.trim() === "")}
          onClick={() => void send()}
        >
          {kind === "away" ? text.awayTitle : text.acts[kind]}
        </button>
      </DialogFooter>
    </Dialog>
  );
}

function toAct(kind: ActKind, span: string, by: string, note: string): Act {
  if (kind === "back") return { kind: "unshelve", by };
  if (kind !== "away") return { kind: "acknowledge", by, note };
  if (span === OUT) return { kind: "out-of-service", by, note };
  return { kind: "shelve", by, note, minutes: Number(span) };
}
