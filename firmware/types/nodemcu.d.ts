/**
 * The part of NodeMCU-Lua's modules that the ports use, written from that project's documentation
 * (ESP8266 release of 2024-02-25, ESP32 development branch of 2024-10-24). What is marked "from
 * memory" must be checked on the device.
 */

declare namespace i2c {
  const SLOW: number;
  const TRANSMITTER: number;
  const RECEIVER: number;
  function setup(this: void, id: number, sda: number, scl: number, speed: number): number;
  function start(this: void, id: number): void;
  function stop(this: void, id: number): void;
  /** True where the device acknowledged. */
  function address(this: void, id: number, device: number, direction: number): boolean;
  function write(this: void, id: number, ...bytes: number[]): number;
  function read(this: void, id: number, length: number): string;
}

declare namespace ow {
  function setup(this: void, pin: number): void;
  function reset(this: void, pin: number): number;
  function skip(this: void, pin: number): void;
  function write(this: void, pin: number, value: number, power: number): void;
  function read_bytes(this: void, pin: number, count: number): string | undefined;
  function crc8(this: void, text: string): number;
}

interface NodeTimer {
  alarm(this: NodeTimer, milliseconds: number, mode: number, action: (this: void) => void): boolean;
}
declare namespace tmr {
  const ALARM_AUTO: number;
  const ALARM_SINGLE: number;
  function create(this: void): NodeTimer;
  /** ESP8266: microseconds, 31 bits. */
  function now(this: void): number;
  /** ESP8266: restarts the chip where not called again within so many seconds. */
  function softwd(this: void, seconds: number): void;
}

declare namespace gpio {
  const INPUT: number;
  const OUTPUT: number;
  const PULLUP: number;
  const IN: number;
  const OUT: number;
  const PULL_UP: number;
  /** ESP8266. */
  function mode(this: void, pin: number, mode: number, pull?: number): void;
  /** ESP32. */
  function config(this: void, options: { gpio: number; dir: number; pull?: number }): void;
  function read(this: void, pin: number): number;
  function write(this: void, pin: number, level: number): void;
}

interface MqttClient {
  lwt(this: MqttClient, topic: string, message: string, qos: number, retain: number): void;
  on(
    this: MqttClient,
    event: string,
    action: (this: void, client: MqttClient, topic?: string, payload?: string) => void,
  ): void;
  /** ESP32 has one more parameter before the callbacks: reconnect by itself (0: no). */
  connect(
    this: MqttClient,
    host: string,
    port: number,
    secure: unknown,
    ...rest: unknown[]
  ): boolean;
  publish(
    this: MqttClient,
    topic: string,
    payload: string,
    qos: number,
    retain: number,
    done: (this: void) => void,
  ): boolean;
  subscribe(this: MqttClient, topic: string, qos: number): boolean;
  close(this: MqttClient): void;
}
declare namespace mqtt {
  function Client(
    this: void,
    id: string,
    keepalive: number,
    user?: string,
    password?: string,
    clean?: number,
    longest?: number,
  ): MqttClient;
}

declare namespace wifi {
  const STATION: number;
  const SOFTAP: number;
  const STATIONAP: number;
  /** ESP8266. */
  const OPEN: number;
  const WPA2_PSK: number;
  /** ESP32. */
  const AUTH_OPEN: number;
  const AUTH_WPA2_PSK: number;
  /** ESP8266; `save` false spares the flash. */
  function setmode(this: void, mode: number, save?: boolean): void;
  namespace ap {
    function config(this: void, settings: Record<string, unknown>): void;
  }
  namespace eventmon {
    const STA_GOT_IP: number;
    const STA_DISCONNECTED: number;
    function register(this: void, event: number, action: (this: void) => void): void;
  }
  /** ESP32. */
  function mode(this: void, mode: number): void;
  function start(this: void): void;
  namespace sta {
    function config(this: void, settings: Record<string, unknown>): void;
    function connect(this: void): void;
    function getmac(this: void): string;
    function on(this: void, event: string, action: (this: void) => void): void;
  }
}

declare namespace sntp {
  function sync(
    this: void,
    server: string | undefined,
    done: ((this: void) => void) | undefined,
    failed: ((this: void) => void) | undefined,
    repeat: number,
  ): void;
}
declare namespace rtctime {
  function get(this: void): LuaMultiReturn<[number, number, number]>;
  /** Deep sleep; the clock goes on. */
  function dsleep(this: void, microseconds: number): void;
}
declare namespace time {
  function initntp(this: void, server?: string): void;
  function get(this: void): LuaMultiReturn<[number, number]>;
}

interface FlashFile {
  read(this: FlashFile, what?: number): string | undefined;
  write(this: FlashFile, text: string): boolean | undefined;
  close(this: FlashFile): void;
}
/** ESP8266. */
declare namespace file {
  function open(this: void, name: string, mode: string): FlashFile | undefined;
  function getcontents(this: void, name: string): string | undefined;
  function putcontents(this: void, name: string, text: string): boolean | undefined;
  function exists(this: void, name: string): boolean;
  function rename(this: void, from: string, to: string): boolean;
  function remove(this: void, name: string): void;
  function list(this: void): LuaTable<string, number>;
  function fsinfo(this: void): LuaMultiReturn<[number, number, number]>;
}
interface StreamFile {
  read(this: StreamFile, what: string): string | undefined;
  write(this: StreamFile, text: string): unknown;
  close(this: StreamFile): void;
}
/** ESP32. */
declare namespace io {
  function open(this: void, name: string, mode: string): StreamFile | undefined;
}
declare namespace os {
  function rename(this: void, from: string, to: string): boolean | undefined;
  function remove(this: void, name: string): boolean | undefined;
}

interface Socket {
  on(this: Socket, event: string, action: (this: void, socket: Socket, data: string) => void): void;
  connect(this: Socket, port: number, host: string): void;
  send(this: Socket, text: string): void;
  close(this: Socket): void;
  /** Port and address of the other end. */
  getpeer(this: Socket): LuaMultiReturn<[number | undefined, string | undefined]>;
}
interface Server {
  listen(this: Server, port: number, taken: (this: void, socket: Socket) => void): void;
  close(this: Server): void;
}
declare namespace net {
  const TCP: number;
  function createServer(this: void, kind: number, idleS: number): Server;
  function createConnection(this: void): Socket;
}
interface Hasher {
  update(this: Hasher, text: string): void;
  finalize(this: Hasher): string;
}
declare namespace crypto {
  function new_hmac(this: void, algorithm: string, key: string): Hasher;
}

/** ESP8266 only. */
declare const hx711:
  | { init(this: void, clock: number, data: number): void; read(this: void, mode: number): number }
  | undefined;

/** Lua's table of globals. */
declare const _G: { leeward?: (this: void, line?: string) => void };

declare namespace sjson {
  function decode(this: void, text: string): unknown;
}
declare namespace node {
  /** ESP8266: functions of the image in flash; undefined where the firmware was built without. */
  const LFS: { get(this: void, name: string): (() => unknown) | undefined } | undefined;
  function restart(this: void): void;
  function bootreason(this: void): LuaMultiReturn<[number, number | undefined]>;
  /** ESP32 (from memory): microseconds since start, 31 bits and the rest. */
  function uptime(this: void): LuaMultiReturn<[number, number]>;
  /** ESP32: deep sleep. */
  function dsleep(this: void, options: { secs: number }): void;
  function random(this: void, low: number, high: number): number;
}

declare function print(this: void, ...values: unknown[]): void;
declare function pcall(
  this: void,
  action: (this: void) => void,
): LuaMultiReturn<[boolean, unknown]>;
declare function dofile(this: void, name: string): unknown;
declare function loadfile(this: void, name: string): (() => unknown) | undefined;
declare function pairs<K extends string, V>(
  this: void,
  map: LuaTable<K, V>,
): LuaIterable<LuaMultiReturn<[K, V]>>;
