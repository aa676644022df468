/**
 * Port for the ESP32: Lua's `io` and `os` for files, `time` for the clock, TLS for MQTT where the
 * provision asks for it. Its file system lies under `/SPIFFS/` (from memory) and cannot be listed
 * with Lua's own means, so the port keeps a list of the ring's segments itself.
 */
import type { Bundle } from "../src/ports.ts";
import type { Chip, Files } from "./chip.ts";
import { loadBundle } from "./load-bundle.ts";
import { run } from "./run.ts";

const root = "/SPIFFS/";
const index = "index";

function readAll(name: string): string | undefined {
  const opened = io.open(root + name, "r");
  if (opened === undefined) return undefined;
  const content = opened.read("*a");
  opened.close();
  return content ?? "";
}

function put(name: string, content: string, mode: string): boolean {
  const opened = io.open(root + name, mode);
  if (opened === undefined) return false;
  const done = opened.write(content);
  opened.close();
  return done !== undefined && done !== false;
}

let names: string | undefined;

function listed(): string {
  if (names === undefined) names = readAll(index) ?? "";
  return names;
}

/** Written before the file itself: a name without a file does no harm, a file without a name would. */
function note(name: string, there: boolean): void {
  const [isSegment] = string.match(name, "^q%d+$");
  if (isSegment === undefined) return;
  const [found] = string.find(` ${listed()} `, ` ${name} `, 1, true);
  if (there === (found !== undefined)) return;
  if (there) {
    names = `${listed()} ${name}`;
  } else {
    const [left] = string.gsub(` ${listed()} `, ` ${name} `, " ");
    const [bare] = string.match(left, "^%s*(.-)%s*$");
    names = bare ?? "";
  }
  put(index, listed(), "w");
}

function replaceBy(from: string, to: string): boolean {
  note(to, true);
  const aside = `${root}${to}~`;
  os.remove(aside);
  os.rename(root + to, aside);
  if (os.rename(root + from, root + to) !== true) {
    os.rename(aside, root + to);
    return false;
  }
  os.remove(aside);
  return true;
}

const files: Files = {
  // A power cut in the middle of a replacement leaves the old content aside.
  read: (name) => readAll(name) ?? readAll(`${name}~`),
  write: (name, content) => {
    note(name, true);
    return put(name, content, "w");
  },
  append: (name, content) => {
    note(name, true);
    return put(name, content, "a");
  },
  rename: (from, to) => replaceBy(from, to),
  remove: (name) => {
    os.remove(root + name);
    os.remove(`${root}${name}~`);
    note(name, false);
  },
  list: () => listed(),
};

// Reset reasons of the chip's own library (from memory): 1 power, 3 software, 4 … 7 watchdogs and
// panic, 8 deep sleep, 9 brown-out.
const reasons: readonly string[] = [
  "unknown",
  "power-on",
  "external",
  "software",
  "watchdog",
  "watchdog",
  "watchdog",
  "watchdog",
  "wake",
  "brown-out",
];

const chip: Chip = {
  standardPins: {
    sda: 21,
    scl: 22,
    lamp: 18,
    buzzer: 19,
    cylinderProbe: undefined,
    regulatorProbe: undefined,
    arc: undefined,
    button: undefined,
    sensorPower: undefined,
    scaleClock: undefined,
    scaleData: undefined,
  },
  files,
  ringBytes: 400000,
  resetReason: () => {
    const [reason] = node.bootreason();
    return reasons[reason] ?? "unknown";
  },
  microseconds: () => {
    const [low] = node.uptime();
    return low;
  },
  unixTime: () => {
    const [seconds, microseconds] = time.get();
    if (seconds < 1700000000) return $multi(0, 0);
    return $multi(seconds, microseconds);
  },
  startTime: (server) => time.initntp(server ?? "pool.ntp.org"),
  joinNetwork: (provision, up, down) => {
    wifi.mode(wifi.STATION);
    wifi.start();
    wifi.sta.on("got_ip", up);
    wifi.sta.on("disconnected", () => {
      down();
      wifi.sta.connect();
    });
    wifi.sta.config({ ssid: provision.ssid, pwd: provision.password });
    wifi.sta.connect();
  },
  connectBroker: (client, provision, failed) => {
    const secure = provision.tls ? { ca_cert: provision.authority } : 0;
    const onFailure = (_client: unknown, why: unknown): void => failed(why);
    return client.connect(provision.host, provision.port, secure, 0, undefined, onFailure);
  },
  output: (pin) => gpio.config({ gpio: pin, dir: gpio.OUT }),
  input: (pin) => gpio.config({ gpio: pin, dir: gpio.IN, pull: gpio.PULL_UP }),
  openAccess: (name, password, alone) => {
    wifi.mode(alone ? wifi.SOFTAP : wifi.STATIONAP);
    if (alone) wifi.start();
    wifi.ap.config(
      password === ""
        ? { ssid: name, auth: wifi.AUTH_OPEN }
        : { ssid: name, pwd: password, auth: wifi.AUTH_WPA2_PSK },
    );
  },
  closeAccess: () => wifi.mode(wifi.STATION),
  sleep: (seconds) => node.dsleep({ secs: seconds }),
  load: (name) => loadBundle(root, name),
  fixedInFlash: () => node.LFS?.get("leeward-node") !== undefined,
  feedWatchdog: () => undefined,
};

/** Called by the loader with the application. */
export function startPort(bundle: Bundle): void {
  run(chip, bundle);
}
