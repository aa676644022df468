/**
 * Starts a node on a chip: reads who and where it is, makes the ports, and turns it four times a
 * second. Whatever it does not know yet it asks for in its set-up.
 */
import type { Bundle, Node, Reach, SetUp } from "../src/ports.ts";
import { type AccessPoint, closeAccessPoint, openAccessPoint } from "./access-point.ts";
import type { Chip } from "./chip.ts";
import { startConverter } from "./converter.ts";
import { type Hardware, makePorts } from "./make-ports.ts";
import { type Known, knowPlace } from "./provision.ts";
import { createRadio, type Radio } from "./radio.ts";
import { startScale } from "./scale.ts";
import { startThermometer } from "./thermometer.ts";
import { trialFile } from "./update.ts";

const turnMs = 250;
const warmUpMs = 500;
// An update that has not reached the broker within this goes back to the bundle before.
const confirmMs = 900000;
const superviseMs = 10000;
// Turns that raise one after the other, before the chip starts anew.
const failuresBeforeRestart = 20;

interface Running {
  node: Node | undefined;
  reach: Reach;
  radio: Radio | undefined;
  buttonPin: number | undefined;
  turns: number;
  failures: number;
}

function openInput(chip: Chip, pin: number | undefined): void {
  if (pin !== undefined) chip.input(pin);
}

/** One turn that raises must not end all turns: it is told, and twenty in a row start the chip anew. */
function turn(running: Running, seconds: number, microseconds: number): void {
  const { reach, radio, buttonPin } = running;
  const [done, why] = pcall(() => {
    running.node?.tick(seconds, microseconds);
    const pressed = buttonPin !== undefined && gpio.read(buttonPin) === 0;
    reach.tick(seconds, radio?.networkUp ?? false, radio?.up ?? false, pressed);
  });
  running.turns += 1;
  if (done) {
    running.failures = 0;
    return;
  }
  running.failures += 1;
  if (running.failures === 1) print(`leeward: a turn failed: ${why as string}`);
  if (running.failures >= failuresBeforeRestart) node.restart();
}

/** Counts time from a 31-bit microsecond counter, which must be asked more often than it wraps. */
function startTurns(chip: Chip, running: Running): void {
  let lastUs = chip.microseconds();
  let seconds = 0;
  let microseconds = 0;
  tmr.create().alarm(turnMs, tmr.ALARM_AUTO, () => {
    const nowUs = chip.microseconds();
    let passedUs = nowUs - lastUs;
    // 2^31 less one, plus one: the sum stays within 32-bit integers.
    if (passedUs < 0) passedUs = passedUs + 2147483647 + 1;
    lastUs = nowUs;
    microseconds += passedUs;
    while (microseconds >= 1000000) {
      microseconds -= 1000000;
      seconds += 1;
    }
    turn(running, seconds, microseconds);
    chip.feedWatchdog();
  });
  // Timers that go on while the turns have stopped: start anew.
  let seen = -1;
  tmr.create().alarm(superviseMs, tmr.ALARM_AUTO, () => {
    if (running.turns === seen) node.restart();
    seen = running.turns;
  });
}

/** Access point, page and console; `leeward "help"` on the serial console speaks to it. */
function startReach(chip: Chip, bundle: Bundle, known: Known): Reach {
  const { provision } = known;
  const access: AccessPoint = { chip, reach: undefined, server: undefined };
  const { files } = chip;
  const complete = known.why === "";
  const reach = bundle.keepReachable({
    hardwareAddress: hardwareAddress(),
    name: known.enrolled ? `${provision.site}/${provision.node}` : hardwareAddress(),
    network: provision.ssid,
    host: provision.host,
    port: provision.port,
    secret: provision.secret,
    enrolled: known.enrolled,
    complete,
    why: known.why,
    readFile: (name) => files.read(name),
    writeFile: (name, content) => files.write(name, content),
    renameFile: (from, to) => files.rename(from, to),
    removeFile: (name) => files.remove(name),
    lamp: (on) => gpio.write(provision.pins.lamp, on ? 1 : 0),
    openAccess: (name, password) => openAccessPoint(access, name, password, !complete),
    closeAccess: () => closeAccessPoint(access),
    loadSetUp: () => chip.load("leeward-set-up") as SetUp,
    restart: () => node.restart(),
  });
  access.reach = reach;
  _G.leeward = (line?: string) => print(reach.command(line ?? "help"));
  return reach;
}

export function hardwareAddress(): string {
  return string.gsub(wifi.sta.getmac(), ":", "")[0];
}

function startNode(chip: Chip, bundle: Bundle, known: Known): { node: Node; radio: Radio } {
  const { provision } = known;
  const { pins } = provision;
  const radio = createRadio(chip, provision);
  const hardware: Hardware = {
    chip,
    provision,
    radio,
    address: hardwareAddress(),
    probes: [
      pins.cylinderProbe === undefined ? undefined : startThermometer(pins.cylinderProbe),
      pins.regulatorProbe === undefined ? undefined : startThermometer(pins.regulatorProbe),
    ],
    converter: startConverter(pins.sda, pins.scl, provision.scale === "converter"),
    scale: provision.scale === "bridge" ? startScale(pins.scaleClock, pins.scaleData) : undefined,
    joined: false,
  };
  const running = bundle.start(makePorts(hardware));
  radio.node = running;
  tmr.create().alarm(confirmMs, tmr.ALARM_SINGLE, () => {
    if (chip.files.read(trialFile) !== undefined) node.restart();
  });
  return { node: running, radio };
}

/** Runs `bundle` on `chip`. */
export function run(chip: Chip, bundle: Bundle): void {
  const fault = bundle.selfTest();
  if (fault !== "") {
    print(`leeward: self-test failed: ${fault}`);
    return;
  }
  const known = knowPlace(chip.files, chip.standardPins);
  const { pins } = known.provision;
  chip.output(pins.lamp);
  chip.output(pins.buzzer);
  openInput(chip, pins.arc);
  openInput(chip, pins.button);
  if (pins.sensorPower !== undefined) {
    chip.output(pins.sensorPower);
    gpio.write(pins.sensorPower, 1);
  }
  const running: Running = {
    node: undefined,
    reach: startReach(chip, bundle, known),
    radio: undefined,
    buttonPin: pins.button,
    turns: 0,
    failures: 0,
  };
  if (known.why === "") {
    const started = startNode(chip, bundle, known);
    running.node = started.node;
    running.radio = started.radio;
  } else {
    print(`leeward: ${known.why} leeward "help" lists what can be told here.`);
  }
  // The converter has its first readings before the first turn.
  tmr.create().alarm(warmUpMs, tmr.ALARM_SINGLE, () => startTurns(chip, running));
}
