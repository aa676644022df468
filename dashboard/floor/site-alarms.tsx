import { shop } from "../api/store.ts";
import { alarmText } from "../display/alarm-text.ts";
import { urgencyOf } from "../display/urgency.ts";
import { words } from "../language/words.ts";
import { units } from "../settings/settings.ts";
import { UrgencySign } from "../signs/urgency-sign.tsx";

/** Alarms of the whole shop, above the stations: that nobody can be reached belongs on the wall. */
export function SiteAlarms(props: { linked: boolean }) {
  const standing = (shop.value?.siteAlarms ?? []).filter(
    ({ active, state }) => active && state !== "shelved" && state !== "out-of-service",
  );
  return (
    <>
      {standing.map((alarm) => {
        const urgency = urgencyOf(alarm);
        const { title, advice } = alarmText(alarm, units.value);
        return (
          <section
            key={alarm.id}
            class={`sentence site-alarm sentence-${urgency}`}
            data-condition={alarm.condition}
            role="alert"
          >
            <span class="sentence-urgency">
              <UrgencySign urgency={urgency} />
              <span class="sentence-word">{words.urgency[urgency]}</span>
            </span>
            <p class="sentence-text">
              <strong>
                {props.linked ? (
                  <a href={`#/alarms/${encodeURIComponent(alarm.id)}`}>{title}</a>
                ) : (
                  title
                )}
              </strong>{" "}
              {advice}
            </p>
          </section>
        );
      })}
    </>
  );
}
