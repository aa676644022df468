/** The application's ports on a chip. */
import type { Ports } from "../src/ports.ts";
import type { Chip } from "./chip.ts";
import { type Converter, readConverter, readConverterScale } from "./converter.ts";
import type { Provision } from "./provision.ts";
import { closeRadio, connectRadio, publishRadio, type Radio, subscribeRadio } from "./radio.ts";
import type { BridgeScale } from "./scale.ts";
import type { Thermometer } from "./thermometer.ts";
import { fetchUpdate, trialFile, updateFile, updateKey } from "./update.ts";

export interface Hardware {
  chip: Chip;
  provision: Provision;
  radio: Radio;
  /** EUI-48, 12 hexadecimal digits. */
  address: string;
  converter: Converter;
  probes: (Thermometer | undefined)[];
  scale: BridgeScale | undefined;
  /** The network is joined at the first try to connect: a wake that does not send keeps the radio off. */
  joined: boolean;
}

/** A contact or an open collector against ground, with a pull-up: low is "on". */
function isOn(pin: number | undefined): boolean {
  return pin !== undefined && gpio.read(pin) === 0;
}

function joinOnce(hardware: Hardware): void {
  if (hardware.joined) return;
  hardware.joined = true;
  const { chip, provision, radio } = hardware;
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
}

/** `Ports.sleep`, on a battery. */
function sleepPort(hardware: Hardware): ((this: void, seconds: number) => void) | undefined {
  const { chip, provision } = hardware;
  if (!provision.battery) return undefined;
  return (seconds) => {
    const { sensorPower } = provision.pins;
    if (sensorPower !== undefined) gpio.write(sensorPower, 0);
    chip.sleep(seconds);
  };
}

export function makePorts(hardware: Hardware): Ports {
  const { chip, provision, radio, converter, probes, scale } = hardware;
  const { files } = chip;
  const { pins } = provision;
  return {
    site: provision.site,
    node: provision.node,
    hardwareAddress: hardware.address,
    reset: chip.resetReason(),
    random: node.random(1, 2147483646),
    hasFlash: true,
    ringBytes: chip.ringBytes,
    readAdc: (channel) => readConverter(converter, channel),
    readTemperature: (probe) => probes[probe - 1]?.celsius,
    readArc: () => (pins.arc === undefined ? undefined : isOn(pins.arc)),
    readScale: () => (scale === undefined ? readConverterScale(converter) : scale.counts),
    readButton: () => isOn(pins.button),
    unixTime: () => chip.unixTime(),
    lamp: (on) => gpio.write(pins.lamp, on ? 1 : 0),
    buzzer: (on) => gpio.write(pins.buzzer, on ? 1 : 0),
    connect: (topic, payload) => {
      joinOnce(hardware);
      connectRadio(radio, topic, payload);
    },
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
      else fetchUpdate(files, updateKey(provision.secret), url, bytes, hmac, tell);
    },
    restart: (update) => {
      if (update && files.read(updateFile) !== undefined) files.write(trialFile, "0");
      node.restart();
    },
    sleep: sleepPort(hardware),
    confirmUpdate: () => {
      if (files.read(trialFile) !== undefined) files.remove(trialFile);
    },
    log: (line) => print(line),
  };
}
