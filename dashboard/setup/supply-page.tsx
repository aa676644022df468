import { useEffect, useState } from "preact/hooks";
import type { Answer } from "../api/client.ts";
import { ownSite, stations } from "../api/store.ts";
import { setupWords as text } from "../language/setup-words.ts";
import { words } from "../language/words.ts";
import { units } from "../settings/settings.ts";
import { ProblemNote } from "../shell/problem-note.tsx";
import { DemoNote } from "./demo-note.tsx";
import { supplyDraft } from "./draft.ts";
import { GoOn } from "./go-on.tsx";
import { changedInSupply, supplyDraftOn } from "./outdated-draft.ts";
import { getSupply, type SupplyView } from "./setup-api.ts";
import { SupplyForm, type SupplyStepName } from "./supply-form.tsx";
import { useSupplies } from "./use-supplies.ts";

/** A new shared supply. */
export function NewSupply() {
  const [typedUnits] = useState(units.value);
  const [draft] = useState(() => supplyDraft.recallFor(null));
  const supplies = useSupplies();
  const sites = [...stations.value.values()].filter((one) => !one.virtual).map((one) => one.site);
  const own = ownSite.value;
  const site = own === undefined || sites.includes(own) ? own : (sites[0] ?? own);
  if (site === undefined || !supplies) return <p class="empty">{words.state.loading}</p>;
  return (
    <>
      <h1>{text.supply.fresh}</h1>
      <DemoNote />
      <p class="quiet">{text.supply.intro}</p>
      <SupplyForm
        site={site}
        base={null}
        there={supplies.filter(({ description }) => description.site === site)}
        units={draft ? { ...typedUnits, ...draft.units } : typedUnits}
        draft={draft}
      />
    </>
  );
}

/** A shared supply that is here, to be changed. */
export function ChangeSupply({ id }: { id: string }) {
  const [typedUnits] = useState(units.value);
  const [answer, setAnswer] = useState<Answer<SupplyView> | null>(null);
  useEffect(() => {
    void getSupply(id).then(setAnswer);
  }, [id]);
  const [site = "", name = ""] = id.split(".");
  return (
    <>
      <h1>{text.supply.change(name)}</h1>
      {!answer && <p class="empty">{words.state.loading}</p>}
      {answer?.ok ? (
        <GoOn
          key={id}
          of={supplyDraft}
          now={{ id, version: answer.value.version, document: answer.value.description }}
          onTop={supplyDraftOn}
          changed={(before, now) =>
            changedInSupply(before, now).map((step) => text.supply.steps[step as SupplyStepName])
          }
        >
          {(draft) => (
            <SupplyForm
              site={site}
              base={answer.value}
              there={[]}
              units={draft ? { ...typedUnits, ...draft.units } : typedUnits}
              draft={draft}
            />
          )}
        </GoOn>
      ) : (
        <ProblemNote answer={answer} />
      )}
    </>
  );
}
