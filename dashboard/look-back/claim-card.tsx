import type { ClaimEntry, LookBack as Report } from "@leeward/shared-core/api/look-back.ts";
import { isNamed } from "@leeward/shared-core/record/claims.ts";
import { useState } from "preact/hooks";
import type { Answer } from "../api/client.ts";
import { volumeText } from "../display/numbers.ts";
import { lookBackWords as text } from "../language/look-back-words.ts";
import { words } from "../language/words.ts";
import { units } from "../settings/settings.ts";
import { Dialog } from "../shell/dialog.tsx";
import { TextField } from "../shell/fields.tsx";
import { keepName, recallName } from "../shell/person.ts";
import { ProblemNote } from "../shell/problem-note.tsx";
import { sendClaim } from "./look-back-api.ts";

/** Spells that are listed one by one; the rest goes with all of them. */
const MOST = 10;

type Span = { from: number; to: number };

/** Gas-on spells of which no job says whose they are. */
export function unclaimedSpells({ record, jobs }: Pick<Report, "record" | "jobs">) {
  const named = jobs.filter(isNamed);
  return record.spells.filter(
    (spell) =>
      !named.some((job) => job.from <= spell.from && (job.to === null || job.to >= spell.to)),
  );
}

/** Gas that flowed without a job, to be given to one, and what was given afterwards. */
export function ClaimCard(props: {
  report: Report;
  moment: (t: number) => string;
  onClaimed: () => void;
}) {
  const { report, moment, onClaimed } = props;
  const [open, setOpen] = useState<Span | null>(null);
  const [answer, setAnswer] = useState<Answer<unknown> | null>(null);
  const spells = unclaimedSpells(report);
  const given = report.jobs.filter((job) => job.claimedBy !== undefined);
  if (spells.length === 0 && given.length === 0) return null;
  const send = async (claim: ClaimEntry): Promise<boolean> => {
    const result = await sendClaim(report.station, claim);
    setAnswer(result);
    if (result.ok) onClaimed();
    return result.ok;
  };
  const first = spells[0];
  const last = spells.at(-1);
  return (
    <section class="card look-claim no-print" aria-labelledby="claim-title">
      {first && last && (
        <>
          <h3 id="claim-title">{text.claim.title}</h3>
          <p class="quiet">{text.claim.intro}</p>
          <button
            type="button"
            class="button button-glove"
            onClick={() => setOpen({ from: first.from, to: last.to })}
          >
            {text.claim.all(spells.length)}
          </button>
          {spells.length > 1 && (
            <details>
              <summary>{text.claim.each}</summary>
              <ul class="look-list look-claims">
                {spells.slice(0, MOST).map((spell) => (
                  <li key={spell.from} data-spell={spell.from}>
                    <span>
                      {text.claim.spell(
                        moment(spell.from),
                        moment(spell.to),
                        volumeText(spell.litres, units.value),
                      )}
                    </span>
                    <button
                      type="button"
                      class="button button-glove"
                      onClick={() => setOpen({ from: spell.from, to: spell.to })}
                    >
                      {text.claim.give}
                      <span class="visually-hidden">: {moment(spell.from)}</span>
                    </button>
                  </li>
                ))}
              </ul>
              {spells.length > MOST && <p class="quiet">{text.claim.more(spells.length - MOST)}</p>}
            </details>
          )}
        </>
      )}
      {given.length > 0 && (
        <>
          <h3 id={first ? undefined : "claim-title"}>{text.claim.given}</h3>
          <ul class="look-list look-claims">
            {given.map((job) => (
              <li key={job.from} data-claimed={job.job ?? job.welder}>
                <span>
                  {moment(job.from)} – {job.to === null ? text.now : moment(job.to)},{" "}
                  {text.claim.to([job.job, job.welder].filter(Boolean).join(", "))}
                  {job.claimedBy && <small> {text.claim.saidBy(job.claimedBy)}</small>}
                </span>
                {job.to !== null && (
                  <button
                    type="button"
                    class="button button-glove"
                    onClick={() =>
                      void send({
                        ...{ from: job.from, to: job.to as number, release: true },
                        ...(recallName() === "" ? {} : { by: recallName() }),
                      })
                    }
                  >
                    {text.claim.takeBack}
                    <span class="visually-hidden">: {moment(job.from)}</span>
                  </button>
                )}
              </li>
            ))}
          </ul>
        </>
      )}
      {!open && <ProblemNote answer={answer} />}
      {open && (
        <ClaimDialog
          title={text.claim.giveOf(moment(open.from))}
          answer={answer}
          onSend={(who) => send({ ...open, ...who })}
          onClose={() => {
            setOpen(null);
            setAnswer(null);
          }}
        />
      )}
    </section>
  );
}

function ClaimDialog(props: {
  title: string;
  answer: Answer<unknown> | null;
  onSend: (who: Pick<ClaimEntry, "job" | "welder" | "by">) => Promise<boolean>;
  onClose: () => void;
}) {
  const [job, setJob] = useState("");
  const [welder, setWelder] = useState("");
  const [by, setBy] = useState(recallName);
  const [sending, setSending] = useState(false);
  const given = (key: string, value: string) =>
    value.trim() === "" ? {} : { [key]: value.trim() };
  return (
    <Dialog title={props.title} onClose={props.onClose}>
      <TextField label={text.claim.job} value={job} onChange={setJob} />
      <TextField label={text.claim.welder} value={welder} onChange={setWelder} />
      <TextField label={text.claim.by} value={by} onChange={setBy} />
      <ProblemNote answer={props.answer} />
      <div class="dialog-actions">
        <button type="button" class="button button-glove" onClick={props.onClose}>
          {words.actions.cancel}
        </button>
        <button
          type="button"
          class="button button-glove button-strong"
          disabled={sending || (job.trim() === "" && welder.trim() === "")}
          onClick={async () => {
            setSending(true);
            if (by.trim() !== "") keepName(by.trim());
            const who = { ...given("job", job), ...given("welder", welder), ...given("by", by) };
            if (await props.onSend(who)) props.onClose();
            setSending(false);
          }}
        >
          {text.claim.save}
        </button>
      </div>
    </Dialog>
  );
}
