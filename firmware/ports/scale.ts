/**
 * A load cell behind an HX711, 24 bits, by the module `hx711` (ESP8266 only; the ESP32's firmware has
 * none). On both chips a load cell with an amplifier of 0.5 … 4.5 V may hang on the converter's fourth
 * input instead: see `converter.ts`.
 */
const everyMs = 500;
const silent = -1000000000;

export interface BridgeScale {
  counts: number;
}

/** @param clock, data pins of the HX711; reads twice a second, so that a turn never waits for it. */
export function startScale(clock: number | undefined, data: number | undefined): BridgeScale {
  const scale: BridgeScale = { counts: silent };
  if (clock === undefined || data === undefined || hx711 === undefined) return scale;
  const module = hx711;
  module.init(clock, data);
  tmr.create().alarm(everyMs, tmr.ALARM_AUTO, () => {
    let counts = silent;
    // A converter that is not there leaves its line high: reading would wait for it.
    if (gpio.read(data) === 0) {
      const [done] = pcall(() => {
        counts = module.read(0);
      });
      if (!done) counts = silent;
    }
    scale.counts = counts;
  });
  return scale;
}
