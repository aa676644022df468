import { setupWords } from "../language/setup-words.ts";
import { lendsCamera } from "../shell/camera.ts";
import { PushPanel } from "./push-panel.tsx";

type Need = "install" | "push" | "camera";

/** What works here: each needs https, and a browser that can do it. */
function abilities(): Record<Need, { secure: boolean; able: boolean }> {
  const secure = globalThis.isSecureContext;
  return {
    install: { secure, able: "serviceWorker" in navigator },
    push: { secure, able: "PushManager" in globalThis },
    camera: { secure, able: lendsCamera() },
  };
}

/** What a phone needs https for, whether it has it, and the two ways to get it. */
export function PhonePage() {
  const text = setupWords.phonePage;
  const found = abilities();
  return (
    <>
      <h1>{text.title}</h1>
      <p class={globalThis.isSecureContext ? "noted" : "caution"} data-secure={isSecureContext}>
        {globalThis.isSecureContext ? text.secure : text.insecure}
      </p>
      <dl class="setup-needs-list">
        {(Object.keys(text.items) as Need[]).map((need) => (
          <div key={need} data-need={need}>
            <dt>{text.items[need]}</dt>
            <dd>
              {!found[need].secure ? text.missing : found[need].able ? text.works : text.noBrowser}
            </dd>
          </div>
        ))}
      </dl>
      <p class="quiet">{text.typed}</p>
      <PushPanel />
      <h2>{text.waysTitle}</h2>
      <div class="setup-pair">
        <section class="setup-card">
          <h3>{text.domain}</h3>
          <p>{text.domainText}</p>
        </section>
        <section class="setup-card">
          <h3>{text.authority}</h3>
          <p>{text.authorityText}</p>
        </section>
      </div>
      <p class="quiet">{text.more}</p>
    </>
  );
}
