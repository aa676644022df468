import type { ClaimEntry, LookBack as Report } from "@leeward/shared-core/api/look-back.ts";
import { useState } from "preact/hooks";
import type { Answer } from "../api/client.ts";
import { volumeText } from "../display/numbers.ts";
import { lookBackWords as text } from "../language/look-back-words.ts";
import { units } from "../settings/settings.ts";
import { Dialog } from "../shell/dialog.tsx";
import { DialogFooter } from "../shell/dialog-footer.tsx";
import { Explained } from "../shell/explain.tsx";
import { TextField } from "../shell/fields.tsx";
import { keepName, recallName } from "../shell/person.ts";
import { ProblemNote } from "../shell/problem-note.tsx";
import { sendClaim } from "./look-back-api.ts";
import { type ClaimSpan, unclaimedSpells, unclaimedStretches } from "./unclaimed-spells.ts";

/** Spells that are listed one by one; the rest goes with all of them. */
const MOST = 10;

/** Gas that flowed without a job, to be given to one, and what was given afterwards. */
export function ClaimCard(props: {
  report: Report;
  moment: (t: number) => string;
  onClaimed: () => void;
}) {
  const { report, moment, onClaimed } = props;
  const [open, setOpen] = useState<ClaimSpan[] | null>(null);
  const [takingBack, setTakingBack] = useState(false);
  const [answer, setAnswer] = useState<Answer<unknown> | null>(null);
  const spells = unclaimedSpells(report);
  const given = report.jobs.filter((job) => job.claimedBy !== undefined);
  if (spells.length === 0 && given.length === 0) return null;
  const send = async (claim: ClaimEntry): Promise<boolean> => {
    const result = await sendClaim(report.station, claim);
    setAnswer(result);
    return result.ok;
  };
  /** One claim a stretch; after a refusal the rest stays to be sent again. */
  const sendAll = async (who: Pick<ClaimEntry, "job" | "welder" | "by">): Promise<boolean> => {
    for (const [i, span] of (open ?? []).entries()) {
      if (await send({ ...span, ...who })) continue;
      setOpen((open ?? []).slice(i));
      if (i > 0) onClaimed();
      return false;
    }
    onClaimed();
    return true;
  };
  const takeBack = async (span: ClaimSpan) => {
    setTakingBack(true);
    const by = recallName();
    if (await send({ ...span, release: true, ...(by === "" ? {} : { by }) })) onClaimed();
    setTakingBack(false);
  };
  const first = spells[0];
  const firstOpen = open?.[0];
  return (
    <section class="card look-claim no-print" aria-labelledby="claim-title">
      {first && (
        <>
          <h3 id="claim-title">{text.claim.title}</h3>
          <p class="quiet">{text.claim.intro}</p>
          <button
            type="button"
            class="button button-glove"
            onClick={() => setOpen(unclaimedStretches(spells, report.jobs))}
          >
            {text.claim.all(spells.length)}
          </button>
          {spells.length > 1 && (
            <details>
              <summary>{text.claim.each}</summary>
              <ul class="look-list look-claims">
                {spells.slice(0, MOST).map((spell) => (
                  <li key={spell.from} data-spell={spell.from}>
                    <Explained figure="record-used" label={moment(spell.from)}>
                      {text.claim.spell(
                        moment(spell.from),
                        moment(spell.to),
                        volumeText(spell.litres, units.value),
                      )}
                    </Explained>
                    <button
                      type="button"
                      class="button button-glove"
                      onClick={() => setOpen(unclaimedStretches([spell], report.jobs))}
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
                    disabled={takingBack}
                    onClick={() => void takeBack({ from: job.from, to: job.to as number })}
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
      {!firstOpen && <ProblemNote answer={answer} />}
      {firstOpen && (
        <ClaimDialog
          title={text.claim.giveOf(moment(firstOpen.from))}
          answer={answer}
          onSend={sendAll}
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
      <DialogFooter answer={props.answer} onClose={props.onClose}>
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
      </DialogFooter>
    </Dialog>
  );
}
