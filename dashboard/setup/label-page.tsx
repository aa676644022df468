import { useEffect, useState } from "preact/hooks";
import { stations } from "../api/store.ts";
import { setupWords } from "../language/setup-words.ts";
import { words } from "../language/words.ts";
import { getDelivery } from "./setup-api.ts";

/** A label to print: the station's name and the code that opens its page. */
export function LabelPage({ id }: { id: string }) {
  const text = setupWords.labelPage;
  const view = stations.value.get(id);
  const [address, setAddress] = useState(() => location.href.replace(/[#?].*$/, ""));
  useEffect(() => {
    void getDelivery().then((answer) => {
      if (answer.ok && answer.value.settings.publicUrl) setAddress(answer.value.settings.publicUrl);
    });
  }, []);
  if (!view) return <p class="empty">{setupWords.gone}</p>;
  const sound = /^https?:\/\/[^/]+/.test(address);
  const local = /^https?:\/\/(localhost|127\.|\[::1\])/.test(address);
  const target = `${address.replace(/\/*$/, "/")}#/station/${id}`;
  return (
    <>
      <h1 class="no-print">{text.title(view.name)}</h1>
      <p class="quiet no-print">{text.note}</p>
      <div class="field no-print">
        <label for="label-address">{text.address}</label>
        <input
          id="label-address"
          type="url"
          value={address}
          maxLength={200}
          aria-describedby={local ? "label-local" : undefined}
          onInput={(event) => setAddress(event.currentTarget.value)}
        />
      </div>
      {local && (
        <p id="label-local" class="caution no-print">
          {text.local}
        </p>
      )}
      {sound && (
        <div class="setup-label" data-field="label">
          <img
            src={`api/v1/stations/${id}/code.svg?address=${encodeURIComponent(address)}`}
            alt={text.alt(target)}
            width="240"
            height="240"
          />
          <div>
            <p class="setup-label-name">{view.name}</p>
            <p>{text.scan}</p>
            <p class="quiet">
              {words.productName} · {id}
            </p>
          </div>
        </div>
      )}
      <div class="setup-actions no-print">
        <button
          type="button"
          class="button button-glove button-strong"
          disabled={!sound}
          onClick={() => print()}
        >
          {text.print}
        </button>
      </div>
    </>
  );
}
