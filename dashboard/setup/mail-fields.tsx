import { setupWords } from "../language/setup-words.ts";
import { CheckField } from "../shell/fields.tsx";
import type { DeliverySettings, MailServer } from "./setup-api.ts";

const fresh: MailServer = { host: "", port: 587, secure: false, requireTls: true, from: "" };

/** What e-mail and messages on phones need beside the contacts. */
export function MailFields(props: {
  settings: DeliverySettings;
  change: (next: Partial<DeliverySettings>) => void;
}) {
  const text = setupWords.shopPage;
  const { settings, change } = props;
  const mail = settings.smtp;
  const put = (next: Partial<MailServer>) => {
    if (!mail) return;
    const smtp = { ...mail, ...next };
    // A server without a login wants no empty one.
    if (smtp.user === "") delete smtp.user;
    if (smtp.password === "") delete smtp.password;
    change({ smtp });
  };
  const input = (id: string, label: string, value: string, onInput: (value: string) => void) => (
    <div class="field">
      <label for={id}>{label}</label>
      <input
        id={id}
        type="text"
        autoComplete="off"
        autoCapitalize="off"
        spellcheck={false}
        maxLength={200}
        value={value}
        onInput={(event) => onInput(event.currentTarget.value)}
      />
    </div>
  );
  return (
    <>
      <fieldset class="setup-spans">
        <legend>{text.mail}</legend>
        <CheckField
          label={text.mailOn}
          checked={mail !== null}
          onChange={(on) => change({ smtp: on ? fresh : null })}
        />
        {mail && (
          <div class="fields">
            {input("mail-host", text.mailHost, mail.host, (host) => put({ host }))}
            {input("mail-port", text.mailPort, String(mail.port), (port) => {
              put({ port: Number(port) || 0, secure: Number(port) === 465 });
            })}
            {input("mail-from", text.mailFrom, mail.from, (from) => put({ from }))}
            {input("mail-user", text.mailUser, mail.user ?? "", (user) => put({ user }))}
            <div class="field">
              <label for="mail-password">{text.mailPassword}</label>
              <input
                id="mail-password"
                type="password"
                autoComplete="off"
                value={mail.password ?? ""}
                onInput={(event) => put({ password: event.currentTarget.value })}
              />
            </div>
          </div>
        )}
      </fieldset>
      {input(
        "push-subject",
        text.pushSubject,
        settings.pushSubject?.replace(/^mailto:/, "") ?? "",
        (typed) => change({ pushSubject: subjectOf(typed) }),
      )}
    </>
  );
}

/** The address as RFC 8292 wants it; null where none is typed. */
function subjectOf(typed: string): string | null {
  const plain = typed.trim();
  if (plain === "") return null;
  return /^(mailto:|https:)/.test(plain) ? plain : `mailto:${plain}`;
}
