/** What differs between the chips: each port file fills this in, `run.ts` does the rest. */
import type { Pins, Provision } from "./provision.ts";

export interface Files {
  read(this: void, name: string): string | undefined;
  write(this: void, name: string, content: string): boolean;
  append(this: void, name: string, content: string): boolean;
  rename(this: void, from: string, to: string): boolean;
  remove(this: void, name: string): void;
  /** All names, separated by blanks. */
  list(this: void): string;
}

export interface Chip {
  standardPins: Pins;
  files: Files;
  /** Bytes of flash that the ring may fill. */
  ringBytes: number;
  resetReason(this: void): string;
  /** Microseconds, of which the lowest 31 bits count. */
  microseconds(this: void): number;
  /** Seconds, microseconds; 0, 0 while unknown. */
  unixTime(this: void): LuaMultiReturn<[number, number]>;
  startTime(this: void, server: string | undefined): void;
  /** Joins the network and stays in it; tells when an address came and went. */
  joinNetwork(this: void, provision: Provision, up: () => void, down: () => void): void;
  connectBroker(
    this: void,
    client: MqttClient,
    provision: Provision,
    failed: (reason: unknown) => void,
  ): boolean;
  output(this: void, pin: number): void;
  input(this: void, pin: number): void;
  /** Runs a bundle from the image in flash where it is there, else from its file. */
  load(this: void, name: string): unknown;
  /** True where the application lies in an image in flash, which only a cable replaces. */
  fixedInFlash(this: void): boolean;
  /** Opens an access point, beside the station or `alone`; WPA2 where there is a password. */
  openAccess(this: void, name: string, password: string, alone: boolean): void;
  closeAccess(this: void): void;
  /** Deep sleep that keeps the clock; the chip starts anew afterwards. */
  sleep(this: void, seconds: number): void;
  /** Called each turn: a turn that does not come restarts the chip, where the chip can do that. */
  feedWatchdog(this: void): void;
}
