import { useEffect, useState } from "preact/hooks";
import { alarmsWords as text } from "../language/alarms-words.ts";
import { UrgencySign } from "../signs/urgency-sign.tsx";
import { type Contact, getMessages, type OutboxMessage, sendTest } from "./alarms-api.ts";

const LOOK_MS = 2000;
const LOOK_TIMES = 15;

/** Whether anybody away from the screens hears of alarms, what did not arrive, and a test. */
export function DeliveryCard(props: {
  /** Null until they are known. */
  contacts: readonly Contact[] | null;
  unreachable: boolean;
}) {
  const { contacts, unreachable } = props;
  const words = text.delivery;
  const [failed, setFailed] = useState<OutboxMessage[]>([]);
  const [tested, setTested] = useState<OutboxMessage[]>([]);
  useEffect(() => {
    void getMessages("state=failed&limit=20").then((answer) => {
      if (answer.ok) setFailed(answer.value.messages);
    });
  }, [unreachable]);
  const test = async (contact: Contact) => {
    const answer = await sendTest(contact.id);
    if (!answer.ok) return;
    const query = answer.value.ids.map((id) => `id=${encodeURIComponent(id)}`).join("&");
    for (let turn = 0; turn < LOOK_TIMES; turn++) {
      const found = await getMessages(query);
      if (found.ok) setTested(found.value.messages);
      if (found.ok && found.value.messages.every((one) => one.state !== "waiting")) return;
      await new Promise((resolve) => setTimeout(resolve, LOOK_MS));
    }
  };
  if (contacts === null) return null;
  return (
    <section class="card" aria-labelledby="delivery-title" data-field="delivery">
      <h2 class="card-title" id="delivery-title">
        {words.title}
      </h2>
      {unreachable && (
        <p class="problem problem-sign" role="alert" data-field="unreachable">
          <UrgencySign urgency="now" />
          <span>
            <strong>{words.unreachableTitle}</strong> {words.unreachable}
          </span>
        </p>
      )}
      {contacts.length === 0 && (
        <p class="caution" data-field="nobody-set">
          <strong>{words.nobodySetTitle}</strong> {words.nobodySet}
        </p>
      )}
      {failed.length > 0 && (
        <div class="caution">
          <p>
            <strong>{words.failed(failed.length)}</strong>
          </p>
          <ul class="causes">
            {failed.slice(0, 5).map((one) => (
              <li key={one.id}>
                {words.lastError(wayName(one.way), one.contact, one.lastError ?? "")}
              </li>
            ))}
          </ul>
        </div>
      )}
      <div class="alarm-tests">
        {contacts.map((contact) => (
          <button
            key={contact.id}
            type="button"
            class="button button-glove"
            onClick={() => void test(contact)}
          >
            {words.test(contact.name)}
          </button>
        ))}
      </div>
      {tested.length > 0 && (
        <ul class="place-list" role="status">
          {tested.map((one) => (
            <li key={one.id} data-test={one.state}>
              {wayName(one.way)}: {words.testState[one.state]}
              {one.lastError && <small> {one.lastError}</small>}
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

function wayName(way: string): string {
  return text.delivery.ways[way as keyof typeof text.delivery.ways] ?? way;
}
