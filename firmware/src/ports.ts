/**
 * What the node's application needs from the world below it. One port implements it for the
 * microcontroller, one for a host that runs the bundle in a Lua VM (see host-port.md).
 *
 * Every member is a plain field or a function called without `self`. Nothing may raise, nothing may
 * block for more than a few milliseconds. Functions in `Node` must not be called from inside a
 * `Ports` function: a port that has news at once delivers it after it has returned.
 *
 * Numbers stay within a 32-bit float's 24 bits or a 32-bit integer: volts travel as whole
 * microvolts, times as seconds and microseconds apart.
 */

import type { ReachState } from "./set-up/reach-state.ts";

/** Analogue channels of `readAdc`. */
export type AdcChannel = 1 | 2 | 3;

/** Temperature probes of `readTemperature`: 1 cylinder wall, 2 regulator body, 3 ambient. */
export type TemperatureProbe = 1 | 2 | 3;

export interface Ports {
  /** Names of the topic, as in `leeward/v1/<site>/<node>/…`. */
  readonly site: string;
  readonly node: string;
  /** EUI-48 of the radio as 12 hexadecimal digits, or "" where there is none. */
  readonly hardwareAddress: string;
  /**
   * Why the node started: `power-on`, `watchdog`, `brown-out`, `software`, `external`,
   * `wake` (a node on a battery comes from its sleep), `unknown`.
   */
  readonly reset: string;
  /** A random number of this start, 1 … 2147483647: the boot number where storage was lost. */
  readonly random: number;
  /** True where `writeFile` and its kin keep their content through a reset. */
  readonly hasFlash: boolean;
  /** Bytes of flash that the ring may fill; 0 without flash. */
  readonly ringBytes: number;

  /**
   * The newest five raw readings of a channel, in whole microvolts, oldest first: 1 line pressure
   * transducer, 2 cylinder pressure transducer, 3 the transducers' supply. Five times undefined
   * (nil) where the converter does not answer.
   */
  readAdc(
    this: void,
    channel: AdcChannel,
  ): LuaMultiReturn<
    [
      number | undefined,
      number | undefined,
      number | undefined,
      number | undefined,
      number | undefined,
    ]
  >;
  /** Latest temperature, °C; undefined where no probe is fitted; -1000 where one stopped answering. */
  readTemperature(this: void, probe: TemperatureProbe): number | undefined;
  /** Current switch on the welding lead: true while it sees the arc; undefined where none is fitted. */
  readArc(this: void): boolean | undefined;
  /**
   * Scale under the cylinder: whole counts of its converter, within ±8,388,607, in proportion to the
   * load; undefined where none is fitted; -1000000000 where it does not answer.
   */
  readScale?(this: void): number | undefined;
  /** Button for silencing, true while pressed; false where there is none. */
  readButton(this: void): boolean;
  /** Unix seconds and microseconds from a time server; 0, 0 while unknown. */
  unixTime(this: void): LuaMultiReturn<[number, number]>;

  lamp(this: void, on: boolean): void;
  buzzer(this: void, on: boolean): void;

  /**
   * Starts connecting; `Node.connected` or `Node.disconnected` follows. The will is QoS 1, retained.
   * Clean session, keepalive 30 s.
   */
  connect(this: void, willTopic: string, willPayload: string): void;
  /** QoS 0 or 1. False where the connection is not there; `Node.published` follows on success (QoS 1: after PUBACK). */
  publish(this: void, topic: string, payload: string, qos: number, retain: boolean): boolean;
  subscribe(this: void, topic: string, qos: number): boolean;
  /** Drops the connection; `Node.disconnected` need not follow. */
  close(this: void): void;

  /** Whole content of a file, undefined where it is not there. Names: at most 12 of `a-z 0-9 . -`. */
  readFile(this: void, name: string): string | undefined;
  /** Replaces a file; false where the flash is full or fails (the old content may be lost). */
  writeFile(this: void, name: string, content: string): boolean;
  appendFile(this: void, name: string, content: string): boolean;
  /** Atomic; replaces `to`. */
  renameFile(this: void, from: string, to: string): boolean;
  removeFile(this: void, name: string): void;
  /** Names of all files, separated by one blank. */
  listFiles(this: void): string;

  /**
   * Fetches `url` into the file `update.new`, then checks its length and its HMAC-SHA-256 (hex, key:
   * the node's secret). `Node.updateReady` follows with "" or with the reason for refusal.
   */
  fetchUpdate(this: void, url: string, bytes: number, hmac: string): void;
  /** Restarts. With `update` true the loader tries `update.new` next. Does not return on hardware. */
  restart(this: void, update: boolean): void;
  /**
   * There only on a node that lives on a battery: sleeps so many seconds and then starts anew, with
   * `reset` "wake" and `unixTime` still known. Does not return on hardware.
   */
  sleep?(this: void, seconds: number): void;
  /** This bundle has come up: the loader keeps it and forgets the one before. */
  confirmUpdate(this: void): void;
  /** One line for the serial console. */
  log(this: void, line: string): void;
}

/** What the bundle hands back: `local bundle = <chunk>(); local node = bundle.start(ports)`. */
export interface Node {
  /**
   * Call every 250 ms with the time since start (seconds, microseconds): measures, warns, reports.
   * A host in a hurry may call it less often, down to once a second; edges are then that coarse.
   */
  tick(this: void, uptimeS: number, uptimeUs: number): void;
  /** The broker has accepted the connection. */
  connected(this: void): void;
  /** The connection is gone or could not be made. */
  disconnected(this: void, reason: string): void;
  /** The last `publish` went out (QoS 1: was acknowledged). */
  published(this: void): void;
  /** A message on a subscribed topic. */
  message(this: void, topic: string, payload: string): void;
  /** End of `fetchUpdate`: "" where the file is good, else why not. */
  updateReady(this: void, why: string): void;
}

/** What the bundle `leeward-set-up` hands back; `state` is between it and the node's bundle. */
export interface SetUp {
  converse(this: void, state: ReachState): WebConversation;
  command(this: void, state: ReachState, line: string): string;
}

/** What a node needs to stay reachable; see `Bundle.keepReachable`. */
export interface ReachPorts {
  readonly hardwareAddress: string;
  /** `site/node` where the node knows who it is, else its hardware address. */
  readonly name: string;
  /** What the node knows of its place; "" and 0 where it does not. */
  readonly network: string;
  readonly host: string;
  readonly port: number;
  readonly secret: string;
  /** True where the node has a name and a secret; where it has all that it needs to start. */
  readonly enrolled: boolean;
  readonly complete: boolean;
  /** A sentence on why it is not complete, "" otherwise. */
  readonly why: string;
  readFile(this: void, name: string): string | undefined;
  writeFile(this: void, name: string, content: string): boolean;
  renameFile(this: void, from: string, to: string): boolean;
  removeFile(this: void, name: string): void;
  lamp(this: void, on: boolean): void;
  /**
   * Opens an access point beside the node's own network, WPA2 where `password` is not "", with a web
   * server at 192.168.4.1 port 80 that hands each connection to `Reach.converse`.
   */
  openAccess(this: void, name: string, password: string): void;
  closeAccess(this: void): void;
  /** Loads and runs the bundle `leeward-set-up`. */
  loadSetUp(this: void): SetUp;
  restart(this: void): void;
}

/** One connection of a phone: takes what came, gives the pieces of an answer when it is complete. */
export interface WebConversation {
  take(this: void, data: string): string[] | undefined;
}

export interface Reach {
  /** Call every 250 ms: seconds since start, whether network and broker are there, the button. */
  tick(this: void, uptimeS: number, networkUp: boolean, gatewayUp: boolean, pressed: boolean): void;
  converse(this: void): WebConversation;
  /** A line of the serial console; returns the answer. */
  command(this: void, line: string): string;
}

export interface Bundle {
  readonly version: string;
  start(this: void, ports: Ports): Node;
  /** Access point, page and console for the node's set-up, beside the node itself or without it. */
  keepReachable(this: void, ports: ReachPorts): Reach;
  /** Checks the bundle in the VM it runs in; "" where all is well, else what failed. */
  selfTest(this: void): string;
}
