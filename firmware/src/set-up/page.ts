/** The one page that a node shows to a phone: network, password, gateway, code. */

export interface PageFields {
  network: string;
  gateway: string;
  code: string;
}

/** What is wrong with each field, "" where nothing. */
export interface PageFaults {
  network: string;
  password: string;
  gateway: string;
  code: string;
}

const head =
  "<!doctype html><html lang=en><meta charset=utf-8>" +
  '<meta name=viewport content="width=device-width,initial-scale=1"><title>Leeward node</title>' +
  "<style>:root{color-scheme:light dark}body{font:17px/1.45 system-ui,sans-serif;max-width:30em;" +
  "margin:1.5em auto;padding:0 1em}label{display:block;margin-top:1.1em;font-weight:600}" +
  "input{font:inherit;width:100%;box-sizing:border-box;padding:.6em;margin-top:.25em}" +
  "small{display:block;font-weight:400}.bad{font-weight:600}.bad:before{content:'\\26a0  '}" +
  "button{font:inherit;padding:.8em 1.6em;margin:1.4em 0}</style>";

function safe(text: string): string {
  const [amp] = string.gsub(text, "&", "&amp;");
  const [less] = string.gsub(amp, "<", "&lt;");
  const [quoted] = string.gsub(less, '"', "&quot;");
  return quoted;
}

function field(
  name: string,
  label: string,
  hint: string,
  value: string,
  kind: string,
  fault: string,
): string {
  const wrong =
    fault === "" ? "" : `<small class=bad id=${name}-bad role=alert>It ${safe(fault)}.</small>`;
  const marked = fault === "" ? "" : ` aria-invalid=true aria-describedby=${name}-bad`;
  return (
    `<label>${label}<small>${hint}</small>` +
    `<input name=${name} type=${kind} value="${safe(value)}" autocapitalize=none ` +
    `autocorrect=off spellcheck=false autocomplete=off${marked}></label>${wrong}`
  );
}

/** The page in pieces of less than 1400 bytes: what the radio sends in one go. */
export function formPage(
  name: string,
  state: string,
  enrolled: boolean,
  fields: PageFields,
  faults: PageFaults,
): string[] {
  const keep = enrolled ? " Leave it empty to keep the one the node has." : "";
  return [
    head,
    `<h1>Node ${safe(name)}</h1><p>${safe(state)}</p><form method=post action=/>`,
    field(
      "network",
      "Wi-Fi network",
      "Its name, 2.4 GHz.",
      fields.network,
      "text",
      faults.network,
    ) +
      field(
        "password",
        "Password of the network",
        "Empty for an open network. It is not shown again.",
        "",
        "password",
        faults.password,
      ),
    field(
      "gateway",
      "Gateway",
      "Address of the machine that Leeward runs on, such as 192.0.2.10.",
      fields.gateway,
      "text",
      faults.gateway,
    ) + field("code", "Code", `From enrolling the node.${keep}`, fields.code, "text", faults.code),
    "<button>Save and join</button></form>",
  ];
}

export function savedPage(network: string): string[] {
  return [
    head,
    `<h1>Saved</h1><p>The node starts again and joins ${safe(network)}. Your phone loses this network now.</p>` +
      "<p>Where the network cannot be joined, this set-up comes back after a minute, and says why.</p>",
  ];
}
