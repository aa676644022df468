/**
 * An ADS1115 on the I2C bus, driven by its registers so that one driver serves both chips (registers
 * and bits from its data sheet, from memory: check there). Range ±6.144 V, 187.5 µV a step, single
 * conversions at 250 a second. It runs by itself from a timer, a conversion each 12 ms: line pressure
 * every other time, cylinder pressure and supply in between; the newest five of each are kept. Where
 * a scale with an amplifier of 0.5 … 4.5 V hangs on the fourth input, it takes every sixth turn.
 */
import type { AdcChannel } from "../src/ports.ts";

const bus = 0;
const device = 0x48;
const everyMs = 12;
/** Inputs AIN0, AIN1, AIN2 carry line, cylinder and supply. */
const schedule: readonly number[] = [1, 2, 1, 3];
const withScale: readonly number[] = [1, 2, 1, 3, 1, 4];
const silent = -1000000000;
const kept = 5;
const failuresBeforeReset = 8;

export interface Converter {
  sda: number;
  scl: number;
  /** Newest readings of each channel, µV, oldest first; fewer than five after a failure. */
  readings: number[][];
  schedule: readonly number[];
  hasScale: boolean;
  position: number;
  started: boolean;
  failures: number;
}

function writeConfig(input: number): boolean {
  i2c.start(bus);
  const heard = i2c.address(bus, device, i2c.TRANSMITTER);
  // Register 1: start (0x80), input against ground (0x40 + 0x10 · input), ±6.144 V, single (0x01);
  // 250 a second (0xa0), comparator off (0x03).
  if (heard) i2c.write(bus, 1, 0xc1 + input * 16, 0xa3);
  i2c.stop(bus);
  return heard;
}

function readResult(): number | undefined {
  i2c.start(bus);
  const pointed = i2c.address(bus, device, i2c.TRANSMITTER);
  if (pointed) i2c.write(bus, 0);
  i2c.stop(bus);
  if (!pointed) return undefined;
  i2c.start(bus);
  const heard = i2c.address(bus, device, i2c.RECEIVER);
  const bytes = heard ? i2c.read(bus, 2) : "";
  i2c.stop(bus);
  const high = string.byte(bytes, 1);
  const low = string.byte(bytes, 2);
  if (high === undefined || low === undefined) return undefined;
  const raw = high * 256 + low;
  return raw >= 32768 ? raw - 65536 : raw;
}

function keep(list: number[], uv: number): void {
  if (list.length >= kept) table.remove(list, 1);
  list.push(uv);
}

function fail(converter: Converter): void {
  for (let channel = 1; channel <= 4; channel++) converter.readings[channel - 1] = [];
  converter.started = false;
  converter.failures += 1;
  // A device that hangs in the middle of a byte holds the data line: setting the bus up again
  // clocks it free.
  if (converter.failures % failuresBeforeReset === 0) {
    i2c.setup(bus, converter.sda, converter.scl, i2c.SLOW);
  }
}

/** One step: fetches the conversion that has ended and starts the next. */
function step(converter: Converter): void {
  const { schedule } = converter;
  if (converter.started) {
    const raw = readResult();
    if (raw === undefined) {
      fail(converter);
      return;
    }
    keep(converter.readings[schedule[converter.position] - 1], (raw * 375) / 2);
    converter.position = (converter.position + 1) % schedule.length;
  }
  converter.started = writeConfig(schedule[converter.position] - 1);
  if (converter.started) converter.failures = 0;
  else fail(converter);
}

export function startConverter(sda: number, scl: number, hasScale: boolean): Converter {
  const converter: Converter = {
    sda,
    scl,
    readings: [[], [], [], []],
    schedule: hasScale ? withScale : schedule,
    hasScale,
    position: 0,
    started: false,
    failures: 0,
  };
  i2c.setup(bus, sda, scl, i2c.SLOW);
  tmr.create().alarm(everyMs, tmr.ALARM_AUTO, () => step(converter));
  return converter;
}

/** `Ports.readAdc`. */
export function readConverter(
  converter: Converter,
  channel: AdcChannel,
): LuaMultiReturn<
  [
    number | undefined,
    number | undefined,
    number | undefined,
    number | undefined,
    number | undefined,
  ]
> {
  const list = converter.readings[channel - 1];
  if (list.length < kept) return $multi(undefined, undefined, undefined, undefined, undefined);
  return $multi(list[0], list[1], list[2], list[3], list[4]);
}

/** `Ports.readScale`: millionths of the amplifier's supply; undefined where none is fitted. */
export function readConverterScale(converter: Converter): number | undefined {
  if (!converter.hasScale) return undefined;
  const [, , supply] = converter.readings;
  const load = converter.readings[3];
  if (load.length < kept || supply.length < kept || supply[kept - 1] < 4000000) return silent;
  let sum = 0;
  for (const reading of load) sum += reading;
  const share = sum / kept / supply[kept - 1];
  // Without the transducers' tenth at no load a wire is broken.
  return share < 0.05 || share > 0.95 ? silent : Math.floor(share * 1000000 + 0.5);
}
