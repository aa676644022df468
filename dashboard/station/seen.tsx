import type { AlarmView } from "@leeward/shared-core/api/alarms.ts";
import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { useEffect, useState } from "preact/hooks";
import { type Answer, acknowledgeAlarm, getAlarms } from "../api/client.ts";
import { alarmNews, nowS, timeZone } from "../api/store.ts";
import { alarmText } from "../display/alarm-text.ts";
import { momentInWords } from "../display/durations.ts";
import { words } from "../language/words.ts";
import { units } from "../settings/settings.ts";
import { Dialog } from "../shell/dialog.tsx";
import { DialogFooter } from "../shell/dialog-footer.tsx";
import { NameField } from "../shell/name-field.tsx";
import { keepName, recallName } from "../shell/person.ts";

/** Whether somebody has seen the alarm, and the button to say so. Nothing where it cannot be told. */
export function Seen({ view, condition }: { view: StationView; condition: string }) {
  const [alarm, setAlarm] = useState<AlarmView | null>(null);
  const [asking, setAsking] = useState(false);
  const since = view.estimate?.alarms.find((one) => one.condition === condition)?.since;

  // Somebody else may have seen it, on another screen.
  const news = alarmNews.value;
  useEffect(() => {
    let stopped = false;
    void getAlarms().then((answer) => {
      if (stopped || !answer.ok) return;
      setAlarm(
        answer.value.alarms.find((one) => one.station === view.id && one.condition === condition) ??
          null,
      );
    });
    return () => {
      stopped = true;
    };
  }, [view.id, condition, since, news]);

  if (!alarm) return null;
  const seen = alarm.acknowledged;
  if (seen) {
    const time = momentInWords(Date.parse(seen.at) / 1000, nowS.value, timeZone.value);
    return <span class="band-seen">{words.seen.by(seen.by, time)}</span>;
  }
  if (alarm.state !== "unacknowledged") return null;
  return (
    <>
      <button type="button" class="button band-button" onClick={() => setAsking(true)}>
        {words.seen.button}
      </button>
      {asking && <SeenDialog alarm={alarm} onSeen={setAlarm} onClose={() => setAsking(false)} />}
    </>
  );
}

function SeenDialog(props: {
  alarm: AlarmView;
  onSeen: (alarm: AlarmView) => void;
  onClose: () => void;
}) {
  const [name, setName] = useState(() => recallName());
  const [answer, setAnswer] = useState<Answer<AlarmView> | null>(null);
  const [sending, setSending] = useState(false);

  async function send(): Promise<void> {
    setSending(true);
    const result = await acknowledgeAlarm(props.alarm.id, name.trim());
    setSending(false);
    setAnswer(result);
    if (!result.ok) return;
    keepName(name.trim());
    props.onSeen(result.value);
    props.onClose();
  }

  return (
    <Dialog title={words.seen.title} onClose={props.onClose}>
      <p>
        <strong>{alarmText(props.alarm, units.value).title}</strong>
      </p>
      <p class="quiet">{words.seen.note}</p>
      <NameField name={name} onChange={setName} />
      <DialogFooter answer={answer} onClose={props.onClose}>
        <button
          type="button"
          class="button button-glove button-strong"
          disabled={sending || name.trim() === ""}
          onClick={send}
        >
          {words.seen.button}
        </button>
      </DialogFooter>
    </Dialog>
  );
}
