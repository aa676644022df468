/** Starts a node on a chip: reads its provision, makes the ports, and turns it four times a second. */
import type { Bundle, Node, Ports } from "../src/ports.ts";
import type { Chip } from "./chip.ts";
import { type Converter, readConverter, startConverter } from "./converter.ts";
import { type Provision, readProvision } from "./provision.ts";
import {
  closeRadio,
  connectRadio,
  createRadio,
  publishRadio,
  type Radio,
  subscribeRadio,
} from "./radio.ts";
import { startThermometer, type Thermometer } from "./thermometer.ts";
import { fetchUpdate, trialFile, updateFile } from "./update.ts";

const turnMs = 250;
const warmUpMs = 500;
// An update that has not reached the broker within this goes back to the bundle before.
const confirmMs = 900000;

interface Hardware {
  chip: Chip;
  provision: Provision;
  radio: Radio;
  converter: Converter;
  probes: (Thermometer | undefined)[];
}

function openInput(chip: Chip, pin: number | undefined): void {
  if (pin !== undefined) chip.input(pin);
}

/** A contact or an open collector against ground, with a pull-up: low is "on". */
function isOn(pin: number | undefined): boolean {
  return pin !== undefined && gpio.read(pin) === 0;
}

function makePorts(hardware: Hardware): Ports {
  const { chip, provision, radio, converter, probes } = hardware;
  const { files } = chip;
  const { pins } = provision;
  return {
    site: provision.site,
    node: provision.node,
    hardwareAddress: string.gsub(wifi.sta.getmac(), ":", "")[0],
    reset: chip.resetReason(),
    random: node.random(1, 2147483646),
    hasFlash: true,
    ringBytes: chip.ringBytes,
    readAdc: (channel) => readConverter(converter, channel),
    readTemperature: (probe) => probes[probe - 1]?.celsius,
    readArc: () => (pins.arc === undefined ? undefined : isOn(pins.arc)),
    readButton: () => isOn(pins.button),
    unixTime: () => chip.unixTime(),
    lamp: (on) => gpio.write(pins.lamp, on ? 1 : 0),
    buzzer: (on) => gpio.write(pins.buzzer, on ? 1 : 0),
    connect: (topic, payload) => connectRadio(radio, topic, payload),
    publish: (topic, payload, qos, retain) => publishRadio(radio, topic, payload, qos, retain),
    subscribe: (topic, qos) => subscribeRadio(radio, topic, qos),
    close: () => closeRadio(radio),
    readFile: (name) => files.read(name),
    writeFile: (name, content) => files.write(name, content),
    appendFile: (name, content) => files.append(name, content),
    renameFile: (from, to) => files.rename(from, to),
    removeFile: (name) => files.remove(name),
    listFiles: () => files.list(),
    fetchUpdate: (url, bytes, hmac) => {
      const tell = (why: string): void => {
        tmr.create().alarm(1, tmr.ALARM_SINGLE, () => radio.node?.updateReady(why));
      };
      if (chip.fixedInFlash()) tell("this node's application lies in flash: update it by cable");
      else fetchUpdate(files, provision.secret, url, bytes, hmac, tell);
    },
    restart: (update) => {
      if (update && files.read(updateFile) !== undefined) files.write(trialFile, "0");
      node.restart();
    },
    confirmUpdate: () => {
      if (files.read(trialFile) !== undefined) files.remove(trialFile);
    },
    log: (line) => print(line),
  };
}

/** Counts time from a 31-bit microsecond counter, which must be asked more often than it wraps. */
function startTurns(chip: Chip, running: Node): void {
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
    running.tick(seconds, microseconds);
    chip.feedWatchdog();
  });
}

/** Runs `bundle` on `chip`; without a good provision it only says what is wrong. */
export function run(chip: Chip, bundle: Bundle): void {
  const [provision, why] = readProvision(chip.files.read("provision"), chip.standardPins);
  if (provision === undefined) {
    print(`leeward: ${why}. Enrol the node and copy its provision file onto it.`);
    return;
  }
  const fault = bundle.selfTest();
  if (fault !== "") {
    print(`leeward: self-test failed: ${fault}`);
    return;
  }
  const { pins } = provision;
  chip.output(pins.lamp);
  chip.output(pins.buzzer);
  openInput(chip, pins.arc);
  openInput(chip, pins.button);
  const radio = createRadio(chip, provision);
  const probes = [
    pins.cylinderProbe === undefined ? undefined : startThermometer(pins.cylinderProbe),
    pins.regulatorProbe === undefined ? undefined : startThermometer(pins.regulatorProbe),
  ];
  const converter = startConverter(pins.sda, pins.scl);
  const running = bundle.start(makePorts({ chip, provision, radio, converter, probes }));
  radio.node = running;
  chip.joinNetwork(
    provision,
    () => {
      radio.networkUp = true;
      chip.startTime(provision.timeServer);
    },
    () => {
      radio.networkUp = false;
    },
  );
  // The converter has its first readings before the first turn.
  tmr.create().alarm(warmUpMs, tmr.ALARM_SINGLE, () => startTurns(chip, running));
  tmr.create().alarm(confirmMs, tmr.ALARM_SINGLE, () => {
    if (chip.files.read(trialFile) !== undefined) node.restart();
  });
}
