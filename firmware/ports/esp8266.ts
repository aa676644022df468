/**
 * Port for the ESP8266: its modules `file`, `sntp`, `rtctime`, `wifi.eventmon`. The application runs
 * from an image in flash (LFS), where the loader finds it as `leeward-node`: its code does not fit
 * into the heap. So this chip is updated by cable.
 * TLS needs 25 to 32 kB of heap for its handshake, which is marginal here; the port does without.
 */
import type { Bundle } from "../src/ports.ts";
import type { Chip, Files } from "./chip.ts";
import { loadBundle } from "./load-bundle.ts";
import { run } from "./run.ts";

const watchdogS = 30;

function appendTo(name: string, content: string): boolean {
  const opened = file.open(name, "a+");
  if (opened === undefined) return false;
  const done = opened.write(content) === true;
  opened.close();
  return done;
}

/** The file system cannot rename onto a file that is there: the old one steps aside first. */
function replaceBy(from: string, to: string): boolean {
  const aside = `${to}~`;
  file.remove(aside);
  if (file.exists(to) && !file.rename(to, aside)) return false;
  if (!file.rename(from, to)) {
    file.rename(aside, to);
    return false;
  }
  file.remove(aside);
  return true;
}

/** A power cut between the two steps of a replacement left the old file aside: take it back. */
function healReplacements(): void {
  for (const [name] of pairs(file.list())) {
    const [plain] = string.match(name, "^(.*)~$");
    if (plain !== undefined && !file.exists(plain)) file.rename(name, plain);
  }
}

function listAll(): string {
  const names: string[] = [];
  for (const [name] of pairs(file.list())) names.push(name);
  return table.concat(names, " ");
}

const files: Files = {
  read: (name) => file.getcontents(name),
  write: (name, content) => file.putcontents(name, content) === true,
  append: (name, content) => appendTo(name, content),
  rename: (from, to) => replaceBy(from, to),
  remove: (name) => file.remove(name),
  list: () => listAll(),
};

const reasons: readonly string[] = [
  "power-on",
  "watchdog",
  "brown-out",
  "watchdog",
  "software",
  "wake",
  "external",
];

const chip: Chip = {
  // D2, D1 carry I2C; D5 the lamp, D6 the buzzer (numbers of the module's pins).
  standardPins: {
    sda: 2,
    scl: 1,
    lamp: 5,
    buzzer: 6,
    cylinderProbe: undefined,
    regulatorProbe: undefined,
    arc: undefined,
    button: undefined,
    sensorPower: undefined,
    scaleClock: undefined,
    scaleData: undefined,
  },
  files,
  ringBytes: 200000,
  resetReason: () => {
    const [, extended] = node.bootreason();
    return (extended === undefined ? undefined : reasons[extended]) ?? "unknown";
  },
  microseconds: () => tmr.now(),
  unixTime: () => {
    const [seconds, microseconds] = rtctime.get();
    return $multi(seconds, microseconds);
  },
  startTime: (server) => sntp.sync(server, undefined, undefined, 1),
  joinNetwork: (provision, up, down) => {
    wifi.setmode(wifi.STATION, false);
    wifi.eventmon.register(wifi.eventmon.STA_GOT_IP, up);
    wifi.eventmon.register(wifi.eventmon.STA_DISCONNECTED, down);
    wifi.sta.config({ ssid: provision.ssid, pwd: provision.password, auto: true, save: false });
  },
  connectBroker: (client, provision, failed) =>
    client.connect(provision.host, provision.port, 0, undefined, (_client: unknown, why: unknown) =>
      failed(why),
    ),
  output: (pin) => gpio.mode(pin, gpio.OUTPUT),
  input: (pin) => gpio.mode(pin, gpio.INPUT, gpio.PULLUP),
  openAccess: (name, password, alone) => {
    wifi.setmode(alone ? wifi.SOFTAP : wifi.STATIONAP, false);
    wifi.ap.config(
      password === ""
        ? { ssid: name, auth: wifi.OPEN, save: false }
        : { ssid: name, pwd: password, auth: wifi.WPA2_PSK, save: false },
    );
  },
  closeAccess: () => wifi.setmode(wifi.STATION, false),
  sleep: (seconds) => rtctime.dsleep(seconds * 1000000),
  load: (name) => loadBundle("", name),
  fixedInFlash: () => node.LFS?.get("leeward-node") !== undefined,
  feedWatchdog: () => tmr.softwd(watchdogS),
};

/** Called by the loader with the application. */
export function startPort(bundle: Bundle): void {
  healReplacements();
  run(chip, bundle);
}
