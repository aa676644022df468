import { settingInfos } from "../settings/schema.ts";

const overview = `leeward - true flow and time left on every shielding-gas cylinder

USAGE
  leeward run [options]                 the gateway: broker, store, estimates, dashboard
  leeward replay --station FILE --samples FILE [--every S]
                                        recorded messages in, estimates out
  leeward export --station ID [options] what a station's engine received, for replay
  leeward gas …                         gas, cylinder and flow figures from the same physics
  leeward fit …                         what a bench test says of a flow device
  leeward node enrol|list|revoke …      credentials of nodes, and the file to put on them
  leeward owner                         makes the owner's key, before the network is let in
  leeward settings                      all settings of run, as a page
  leeward help COMMAND                  more about one of them
  leeward --version

EXAMPLES
  npx leeward run
  npx leeward run --no-virtual --site yard --broker-url mqtt://broker.local:1883
  npx leeward export --station yard.bay-3 --out day
  npx leeward replay --station day/station.json --samples day/samples.ndjson --every 1

SAFETY
  Leeward is no oxygen or carbon dioxide monitor. Shielding gases can suffocate; cylinders and hoses
  are under pressure. Follow your local codes and the gas supplier's instructions.
`;

const replay = `leeward replay - the estimates again, from recorded messages

USAGE
  leeward replay --station FILE --samples FILE [options]
  leeward replay --supply FILE --stations FOLDER --samples FILE [options]

  Needs no clock, no network and no store: the same lines in give the same lines out, and the same as
  the live gateway wrote. Estimates go to standard output, one JSON object a line.

OPTIONS
  --station FILE     Description of a station with a cylinder of its own.
  --supply FILE      Description of a shared supply; each line then names its station.
  --stations FOLDER  Folder with the descriptions (*.json) of the stations that draw from it.
  --samples FILE     Lines in order of receipt; - reads standard input. A line is one of
                       [ … ]                                          a SenML pack (RFC 8428)
                       {"received": T, "topic": "…", "payload": […]}   a message with its receipt
                       {"received": T, "person": {"reading": 8}}       what a person said: reading,
                                                                      swap, purge, job, leakTest or undo
                       {"received": T, "setup": {…}}                   a new description
                     T is Unix seconds. A bare pack counts as received at its newest absolute time.
  --every S          Seconds between lines (10). t falls on multiples of it.
  --time-zone ZONE   Time zone of the site, for its habits by hour (else the description's, or UTC).

EXIT CODE
  0  all lines were read
  1  lines were bad: each is reported with its number on standard error, and left out
  2  the command line was not understood
`;

const nodeHelp = `leeward node - credentials of nodes, and the file to put on them

USAGE
  leeward node enrol SITE/NODE [options]   makes credentials and the node's file
  leeward node list [--json]               who is enrolled, and logged in when
  leeward node revoke SITE/NODE            ends credentials; the node is cut off within seconds
  leeward node update SITE/NODE --bundle FILE --url URL [--minutes N]
                                           prints the signed command that makes it fetch a bundle

  Works while the gateway runs. The secret is shown once: the store keeps its SHA-256 alone, and
  beside it, in clear, the key made from it (HMAC-SHA-256) with which updates are signed. Whoever
  reads the store could sign an update, but not log in as the node.

OPTIONS of enrol
  --again                  New credentials in the place of those that stand.
  --out FILE               The node's file, readable by you alone (provision-SITE-NODE).
  --ssid NAME              Wi-Fi network. What is left out the node's own set-up asks for.
  --network-password TEXT  Its password; - reads a line from standard input.
  --gateway HOST[:PORT]    Where the node finds the broker (port 1883).
  --authority FILE         PEM of the authority behind the broker's certificate: TLS (ESP32 only).
  --time-server HOST       Time server, where the shop's network reaches none outside.

OPTIONS of all
  --data FOLDER            The gateway's data folder (LEEWARD_DATA, else ./data).

EXAMPLES
  npx leeward node enrol yard/n-07 --ssid workshop --network-password - --gateway 192.0.2.10
  mosquitto_pub -h 192.0.2.10 -u yard/n-07 -P SECRET -t leeward/v1/yard/n-07/status -m '{"state":"online","boot":1}'
`;

const ownerHelp = `leeward owner - makes the owner's key

USAGE
  leeward owner [--again] [--data FOLDER]

  Needed once before \`leeward run --host\` opens Leeward to the network. With the key nodes are
  enrolled and revoked in Setup, and MQTT clients log in as "owner": they hear everything and may
  send commands. It is shown once; --again makes a new one and ends the one before.
`;

const exportHelp = `leeward export - what a station's engine received, in the form that replay reads

USAGE
  leeward export --station SITE.STATION [options]

  Writes station.json (or supply.json and stations/) and samples.ndjson: messages with their times of
  receipt, people's entries, changes of the description. It may be used while the gateway runs.
  Replay with --every 1 gives the live estimates again, exactly where the stretch begins with the
  engine itself, that is without --from.

OPTIONS
  --station ID   Station, as <site>.<station>.
  --from TIME    Received from then on: RFC 3339, or Unix seconds (all that is kept).
  --to TIME      Received up to then (all).
  --out FOLDER   Where the files go; made if missing (the working directory).
  --data FOLDER  The gateway's data folder (LEEWARD_DATA, else ./data).
`;

function runHelp(): string {
  const rows = settingInfos().map((setting) => {
    const head = `  ${setting.flag} ${setting.placeholder}`;
    const fallback = setting.fallback === null ? "" : ` Default: ${setting.fallback}.`;
    return `${head}\n${wrap(`${setting.description}${fallback} (${setting.variable})`, 6)}`;
  });
  return `leeward run - broker, store, estimates and dashboard in one process

USAGE
  leeward run [options]

  Stays in the foreground; Ctrl-C or SIGTERM stops it in good order. While no station is set up it
  shows six virtual stations and takes the next free port where one is taken. Once a real station is
  set up, a taken port is a refusal to start: nodes would look for it in vain.

OPTIONS
${rows.join("\n")}
  --no-virtual
      The same as --virtual off.

FILES
  <data>/leeward.sqlite   messages, samples, estimates, descriptions, journal
  <data>/broker/          the embedded broker's retained messages

EXIT CODE
  0  stopped in good order
  1  could not start, or failed; one sentence says why, and the way out
  2  the command line was not understood
`;
}

/** Help of a command, or the overview. */
export function helpOf(command: string | null): string {
  if (command === "run") return runHelp();
  if (command === "replay") return replay;
  if (command === "node") return nodeHelp;
  if (command === "owner") return ownerHelp;
  if (command === "export") return exportHelp;
  if (command === "settings") {
    return "leeward settings - prints docs/settings.md, made from the settings themselves\n";
  }
  return overview;
}

function wrap(text: string, indent: number): string {
  const lines: string[] = [];
  let line = "";
  for (const word of text.split(" ")) {
    if (line.length + word.length + 1 > 96 - indent) {
      lines.push(line);
      line = word;
    } else line = line === "" ? word : `${line} ${word}`;
  }
  lines.push(line);
  return lines.map((one) => " ".repeat(indent) + one).join("\n");
}
