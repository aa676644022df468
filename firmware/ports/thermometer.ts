/**
 * DS18B20 probes, each on a pin of its own, so that a probe's place is its plug and no address must
 * be noted. A conversion takes 750 ms; a timer reads the last and starts the next every 2 s.
 */

const everyMs = 2000;
const noAnswer = -1000;

export interface Thermometer {
  pin: number;
  /** °C; `noAnswer` where the probe does not answer; undefined before the first conversion. */
  celsius: number | undefined;
  converting: boolean;
}

function readScratchpad(pin: number): number {
  if (ow.reset(pin) !== 1) return noAnswer;
  ow.skip(pin);
  ow.write(pin, 0xbe, 1);
  const bytes = ow.read_bytes(pin, 9) ?? "";
  if (bytes.length < 9 || ow.crc8(string.sub(bytes, 1, 8)) !== string.byte(bytes, 9)) {
    return noAnswer;
  }
  const raw = (string.byte(bytes, 1) ?? 0) + (string.byte(bytes, 2) ?? 0) * 256;
  return (raw >= 32768 ? raw - 65536 : raw) / 16;
}

function step(thermometer: Thermometer): void {
  const { pin } = thermometer;
  if (thermometer.converting) thermometer.celsius = readScratchpad(pin);
  thermometer.converting = ow.reset(pin) === 1;
  if (thermometer.converting) {
    ow.skip(pin);
    ow.write(pin, 0x44, 1);
  } else {
    thermometer.celsius = noAnswer;
  }
}

export function startThermometer(pin: number): Thermometer {
  const thermometer: Thermometer = { pin, celsius: undefined, converting: false };
  ow.setup(pin);
  tmr.create().alarm(everyMs, tmr.ALARM_AUTO, () => step(thermometer));
  return thermometer;
}
