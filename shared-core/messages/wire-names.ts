/**
 * Names on the wire that the node firmware and the gateway share: topics, SenML records, faults,
 * commands. This file imports nothing and uses only string constants, so that it compiles to the
 * node's Lua as well.
 */

/** First parts of every topic: `leeward/v1/<site>/<node>/<leaf>`. */
export const topicRoot = "leeward/v1";

/** Last part of a node's topic; see the wire contract for direction, retention and payload. */
export const topicLeaf = {
  samples: "samples",
  status: "status",
  stored: "stored",
  config: "config",
  command: "command",
  reply: "reply",
} as const;

/** A site's time topic is `leeward/v1/<site>/time`. */
export const timeLeaf = "time";

/** SenML record names in a node's sample pack. */
export const recordName = {
  cylinderPressure: "cylinder-pressure",
  linePressure: "line-pressure",
  cylinderTemperature: "cylinder-temperature",
  regulatorTemperature: "regulator-temperature",
  ambientTemperature: "ambient-temperature",
  arc: "arc",
  cylinderMass: "cylinder-mass",
  supplyVoltage: "supply-voltage",
  boot: "boot",
  seq: "seq",
  uptime: "uptime",
  thinned: "thinned",
} as const;

/** Appended to a channel's record name: `line-pressure/fault`. */
export const faultSuffix = "/fault";

/** Fault words of a channel. The first three replace the value, the last two stand beside it. */
export const faultWord = {
  openCircuit: "open-circuit",
  shortCircuit: "short-circuit",
  outOfRange: "out-of-range",
  stuck: "stuck",
  noisy: "noisy",
} as const;

/** SenML units (RFC 8428, section 12.1). */
export const senmlUnit = {
  pascal: "Pa",
  celsius: "Cel",
  kilogram: "kg",
  volt: "V",
} as const;

/** What a command's `do` may say. */
export const commandName = {
  identify: "identify",
  signal: "signal",
  restart: "restart",
  sendNow: "send-now",
  update: "update",
} as const;

/** A status message's `state`. */
export const nodeState = {
  online: "online",
  offline: "offline",
} as const;

/** RFC 8428, section 4.5.3: a time below 2^28 is relative to now, one from 2^28 on is absolute. */
export const relativeTimeLimitS = 268435456;

/** Upper limit of a node's sample pack, bytes: what the smallest radio library sends in one piece. */
export const nodePackLimitBytes = 1200;
