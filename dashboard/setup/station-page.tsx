import type { StationView } from "@leeward/shared-core/api/stations.ts";
import { useEffect, useState } from "preact/hooks";
import { type Answer, getStation } from "../api/client.ts";
import { ownSite, shop, stations } from "../api/store.ts";
import { setupWords as text } from "../language/setup-words.ts";
import { words } from "../language/words.ts";
import { units } from "../settings/settings.ts";
import { Choice } from "../shell/choice.tsx";
import { ProblemNote } from "../shell/problem-note.tsx";
import { DemoNote } from "./demo-note.tsx";
import { stationDraft } from "./draft.ts";
import { GiveNode } from "./give-node.tsx";
import { GoOn } from "./go-on.tsx";
import { changedInStation, stationDraftOn } from "./outdated-draft.ts";
import { formOf, newForm } from "./setup-form.ts";
import { type Base, StationForm } from "./station-form.tsx";

/** A new station, with the node it is for where that is known. */
export function NewStation({ node }: { node: { site: string; node: string } | null }) {
  // As they were when the form was opened: what is typed must not change its meaning.
  const [typedUnits] = useState(units.value);
  const [way, setWay] = useState<"new" | "existing">("new");
  const [saved, setSaved] = useState(false);
  const [draft] = useState(() => {
    const kept = stationDraft.recallFor(null);
    return kept && (node === null || kept.form.node === node.node) ? kept : null;
  });
  if (!shop.value) return <p class="empty">{words.state.loading}</p>;
  const site = node?.site ?? ownSite.value ?? "shop";
  const others = [...stations.value.values()].some((one) => one.site === site && !one.virtual);
  return (
    <>
      <h1>{text.newHeading}</h1>
      <DemoNote short />
      {node && others && !saved && (
        <Choice
          label={node.node}
          name="setup-way"
          value={way}
          options={[
            { value: "new", text: text.node.fresh },
            { value: "existing", text: text.node.existing },
          ]}
          onChange={setWay}
        />
      )}
      {node && way === "existing" ? (
        <GiveNode site={node.site} node={node.node} />
      ) : (
        <StationForm
          base={null}
          // Without a node the site is the shop's own, which a list from memory may name wrong.
          start={draft?.form ?? newForm(node?.site ?? "", node?.node ?? "", typedUnits)}
          startStep={draft?.step ?? "node"}
          units={draft ? { ...typedUnits, ...draft.units } : typedUnits}
          onSaved={() => setSaved(true)}
        />
      )}
    </>
  );
}

/** A station that is here, to be changed; its version is the one that was seen when it was opened. */
export function ChangeStation({ id }: { id: string }) {
  const [typedUnits] = useState(units.value);
  const [base, setBase] = useState<Base | null>(null);
  const [answer, setAnswer] = useState<Answer<StationView> | null>(null);
  useEffect(() => {
    // Asked for anew: the list may be some seconds old, and a change begins with what stands.
    void getStation(id).then((got) => {
      setAnswer(got);
      if (!got.ok) return;
      setBase({ id, version: got.value.version, document: got.value.description });
    });
  }, [id]);
  if (!base) {
    const missing = answer?.ok === false && answer.status === 404;
    return (
      <>
        <h1>{text.change(stations.value.get(id)?.name ?? id)}</h1>
        {(missing || !answer) && <p class="empty">{missing ? text.gone : words.state.loading}</p>}
        {!missing && <ProblemNote answer={answer} />}
      </>
    );
  }
  return (
    <>
      <h1>{text.heading(base.document.name ?? base.document.station)}</h1>
      <GoOn
        key={base.id}
        of={stationDraft}
        now={base}
        onTop={stationDraftOn}
        changed={(before, now) => changedInStation(before, now).map((step) => text.steps[step])}
      >
        {(draft) => (
          <StationForm
            base={base}
            start={draft?.form ?? formOf(base.document, typedUnits)}
            startStep={draft?.step ?? "node"}
            units={draft ? { ...typedUnits, ...draft.units } : typedUnits}
          />
        )}
      </GoOn>
    </>
  );
}
