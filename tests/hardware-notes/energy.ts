import { markdownTable, twoDigits } from "./table.ts";

/**
 * Current, battery life and flash wear of a node. Currents are typical values of the chips' and parts'
 * data sheets, all from memory: check there. Times awake come from the tests of battery mode (2 s to
 * measure, 4 s more to send, without a radio's own times), those of the radio from common practice.
 */

interface ChipPower {
  name: string;
  /** mA at 3.3 V: radio off; connected and idle on average; while sending; deep sleep of chip and regulator. */
  computing: number;
  connected: number;
  sending: number;
  asleep: number;
}

// From memory: data sheets' typical figures; asleep with a regulator of 50 µA, no USB chip, no LED.
export const chips: readonly ChipPower[] = [
  { name: "ESP32", computing: 40, connected: 90, sending: 180, asleep: 0.06 },
  { name: "ESP8266", computing: 15, connected: 70, sending: 170, asleep: 0.07 },
];

// Two transducers of 5 mA, converter 0.2 mA, two probes of 1.5 mA while converting; at 5 V. From memory.
const sensorsMa = 13.5;
const sensorVolts = 5;
const chipVolts = 3.3;
/** Of the 5 V supply and the 3.3 V regulator, from a lithium cell; common practice, no source. */
const efficiency = 0.85;
/** 10 Ah at 3.7 V, of which 85 % can be used; common practice, no source. */
const batteryWh = 10 * 3.7 * 0.85;

/** A lithium cell loses 2 % of its charge a month by itself; common practice, no source. */
const selfDischargeW = (batteryWh * 0.02) / (30 * 24);

const measureS = 2.5;
/** Joining a network 3 s (common practice, no source), 4 s to connect, send and listen. */
const sendS = 7;
const burstShare = 0.1;

export interface Life {
  watts: number;
  days: number;
}

function watts(chipMa: number, sensorMa: number): number {
  return (chipMa * chipVolts + sensorMa * sensorVolts) / 1000 / efficiency;
}

function life(power: number): Life {
  return { watts: power, days: batteryWh / (power + selfDischargeW) / 24 };
}

/** Always on, as a node that watches flow must be; packs each 2 s keep the radio sending for 2 % of it. */
export function watchingFlow(chip: ChipPower): Life {
  const current = chip.connected * 0.98 + chip.sending * 0.02;
  return life(watts(current, sensorsMa));
}

/** Asleep between wakes: measures every `everyS`, sends every `sendEveryS`. */
export function watchingContent(chip: ChipPower, everyS: number, sendEveryS: number): Life {
  const measuring = (watts(chip.computing, sensorsMa) * measureS) / everyS;
  const radioMa = chip.connected * (1 - burstShare) + chip.sending * burstShare;
  const sending = (watts(radioMa, sensorsMa) * sendS) / sendEveryS;
  return life(measuring + sending + watts(chip.asleep, 0));
}

function days(one: Life): string {
  return one.days < 10
    ? `${twoDigits(one.days)} days`
    : one.days < 365
      ? `${twoDigits(one.days)} days`
      : `${twoDigits(one.days / 365)} years`;
}

const milliwatts = (one: Life) => `${twoDigits(one.watts * 1000)} mW`;

export function energyTable(): string {
  const rows: string[][] = [
    ["connected, on average (at 3.3 V)", ...chips.map((chip) => `${chip.connected} mA`)],
    ["sending, in bursts", ...chips.map((chip) => `${chip.sending} mA`)],
    ["computing, radio off", ...chips.map((chip) => `${chip.computing} mA`)],
    ["deep sleep, bare module with a good regulator", ...chips.map((chip) => `${chip.asleep} mA`)],
    ["sensors, converter, probes (at 5 V)", ...chips.map(() => `${sensorsMa} mA`)],
    [
      "**watching flow**: always on",
      ...chips.map((chip) => `${milliwatts(watchingFlow(chip))}, ${days(watchingFlow(chip))}`),
    ],
    ...(
      [
        [900, 3600],
        [1800, 21_600],
        [300, 900],
      ] as const
    ).map(([every, send]) => [
      `**content only**: measured every ${every / 60} min, sent every ${send / 60} min`,
      ...chips.map((chip) => {
        const one = watchingContent(chip, every, send);
        return `${milliwatts(one)}, ${days(one)}`;
      }),
    ]),
  ];
  return markdownTable(["mode", ...chips.map((chip) => chip.name)], rows);
}
