import type { SiteView } from "@leeward/shared-core/api/setup.ts";
import type { SiteDocument } from "@leeward/shared-core/documents/station.ts";
import { useEffect, useState } from "preact/hooks";
import type { Answer } from "../api/client.ts";
import { ownSite, shop } from "../api/store.ts";
import { setupWords } from "../language/setup-words.ts";
import { words } from "../language/words.ts";
import { SelectField } from "../shell/fields.tsx";
import { ProblemNote } from "../shell/problem-note.tsx";
import { DeliverySection } from "./delivery-section.tsx";
import { OutboxSection } from "./outbox-section.tsx";
import { getSite, putSite } from "./setup-api.ts";
import { type Span, SpanList } from "./span-list.tsx";

/** What is said of the shop, and who hears of alarms. */
export function ShopPage() {
  const text = setupWords.shopPage;
  const site = ownSite.value;
  const [seen, setSeen] = useState<SiteView | null>(null);
  const [answer, setAnswer] = useState<Answer<SiteView> | null>(null);
  const [working, setWorking] = useState(false);
  useEffect(() => {
    if (site === undefined) return;
    void getSite(site).then((got) => {
      if (got.ok) setSeen(got.value);
      else setAnswer(got);
    });
  }, [site]);
  if (!seen) {
    return (
      <>
        <h1>{setupWords.shop}</h1>
        {!answer && <p class="empty">{words.state.loading}</p>}
        <ProblemNote answer={answer} />
      </>
    );
  }
  const document = seen.description;
  const set = (change: Partial<SiteDocument>) => {
    setAnswer(null);
    setSeen({ ...seen, description: { ...document, ...change } as SiteDocument });
  };
  const spans = (name: "shifts" | "powerOff"): Span[] => {
    const calendar = document.calendar as { [key: string]: Span[] | undefined } | undefined;
    return calendar?.[name] ?? [];
  };
  const setSpans = (name: "shifts" | "powerOff") => (list: Span[]) =>
    set({ calendar: { ...(document.calendar as object | undefined), [name]: list } });

  async function save(): Promise<void> {
    if (!seen) return;
    setWorking(true);
    const saved = await putSite(withoutEmpty(document), seen.version);
    setWorking(false);
    setAnswer(saved);
    if (saved.ok) setSeen(saved.value);
  }

  return (
    <>
      <h1>{setupWords.shop}</h1>
      {site !== shop.value?.site.id && <p class="noted">{text.besideDemo}</p>}
      <div class="setup-card">
        <div class="fields">
          <div class="field">
            <label for="shop-name">{text.name}</label>
            <input
              id="shop-name"
              type="text"
              maxLength={60}
              value={document.name ?? ""}
              onInput={(event) => set({ name: event.currentTarget.value })}
            />
          </div>
          <div class="field">
            <label for="shop-zone">{text.timeZone}</label>
            <input
              id="shop-zone"
              type="text"
              list="shop-zones"
              autoComplete="off"
              spellcheck={false}
              value={document.timeZone}
              aria-describedby="shop-zone-note"
              onInput={(event) => set({ timeZone: event.currentTarget.value })}
            />
            <datalist id="shop-zones">
              {Intl.supportedValuesOf("timeZone").map((zone) => (
                <option key={zone} value={zone} />
              ))}
            </datalist>
            <small id="shop-zone-note" class="field-hint">
              {text.zoneNote}
            </small>
          </div>
          <div class="field">
            <label for="shop-currency">{text.currency}</label>
            <input
              id="shop-currency"
              type="text"
              maxLength={3}
              autoCapitalize="characters"
              value={document.currency ?? ""}
              onInput={(event) => set({ currency: event.currentTarget.value.toUpperCase() })}
            />
          </div>
        </div>
        <UnitFields document={document} set={set} />
        <SpanList
          title={text.shifts}
          note={text.shiftNote}
          name="shifts"
          spans={spans("shifts")}
          onChange={setSpans("shifts")}
        />
        <SpanList
          title={text.powerOff}
          note={text.powerNote}
          name="powerOff"
          spans={spans("powerOff")}
          onChange={setSpans("powerOff")}
        />
        <ProblemNote answer={answer} />
        {answer && !answer.ok && answer.status === 412 && (
          <p class="problem" role="alert">
            {text.conflict}
          </p>
        )}
        <p role="status">{answer?.ok && text.saved}</p>
        <div class="setup-actions">
          <button
            type="button"
            class="button button-glove button-strong"
            disabled={working}
            onClick={save}
          >
            {text.save}
          </button>
        </div>
      </div>
      <DeliverySection />
      <OutboxSection />
    </>
  );
}

/** Units of what is sent to people; each screen has its own choice. */
function UnitFields(props: {
  document: SiteDocument;
  set: (change: Partial<SiteDocument>) => void;
}) {
  const text = setupWords.shopPage;
  const { document, set } = props;
  const units = document.units ?? {};
  const put = (change: NonNullable<SiteDocument["units"]>) =>
    set({ units: { ...units, ...change } });
  const same = (list: readonly string[]) => list.map((value) => ({ value, text: value }));
  return (
    <fieldset class="setup-spans">
      <legend>{text.units}</legend>
      <div class="fields">
        <SelectField
          label={text.flow}
          value={units.flow ?? "L/min"}
          options={same(["L/min", "CFH"])}
          onChange={(flow) => put({ flow: flow === "CFH" ? "CFH" : "L/min" })}
        />
        <SelectField
          label={text.pressure}
          value={units.pressure ?? "bar"}
          options={same(["bar", "psi", "kPa"])}
          onChange={(pressure) =>
            put({ pressure: pressure === "psi" || pressure === "kPa" ? pressure : "bar" })
          }
        />
        <SelectField
          label={text.temperature}
          value={units.temperature ?? "C"}
          options={[
            { value: "C", text: "°C" },
            { value: "F", text: "°F" },
          ]}
          onChange={(temperature) => put({ temperature: temperature === "F" ? "F" : "C" })}
        />
      </div>
    </fieldset>
  );
}

/** Without texts that are empty: a name or currency that is not said. */
function withoutEmpty(document: SiteDocument): SiteDocument {
  const kept = Object.entries(document).filter(([, value]) => value !== "");
  return Object.fromEntries(kept) as SiteDocument;
}
