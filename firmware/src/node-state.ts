/** What a node is made of. */
import type { Commands } from "./commands.ts";
import type { ConfigKeeper } from "./config-keeper.ts";
import type { GasWatch } from "./gas-watch.ts";
import type { Link } from "./link.ts";
import type { Clock } from "./moment.ts";
import type { Ports } from "./ports.ts";
import type { Ring } from "./ring.ts";
import type { Row, Sampler } from "./sampler.ts";
import type { Sensors } from "./sensors.ts";
import type { Warnings } from "./warnings.ts";

export interface NodeState {
  ports: Ports;
  version: string;
  boot: number;
  seq: number;
  clock: Clock;
  askedTimeS: number;
  keeper: ConfigKeeper;
  sensors: Sensors;
  gas: GasWatch;
  sampler: Sampler;
  ring: Ring;
  link: Link;
  commands: Commands;
  warnings: Warnings;
  row: Row;
  arcBefore: number;
}
