/**
 * Keeps the configuration through resets. A new one is on trial until the node has been connected
 * with it for a while; two starts, or two minutes without a connection, before that bring the old
 * one back, and the revision that cut the node off is refused from then on.
 */
import { writeSafely } from "./boot.ts";
import { defaultConfig, type NodeConfig, readConfig } from "./node-config.ts";
import type { Ports } from "./ports.ts";

const trialS = 20;
const cutOffS = 120;

export interface ConfigKeeper {
  ports: Ports;
  config: NodeConfig;
  /** What the old configuration was, while a new one is on trial. */
  before: NodeConfig | undefined;
  trialText: string;
  trialSinceS: number;
  /** Since when the connection has been up during the trial; -1 while it is not. */
  connectedSinceS: number;
  /** Revision that had to be taken back; 0 none. */
  refused: number;
  /** For the status message; "" where all is well. */
  error: string;
}

function load(ports: Ports): NodeConfig {
  const text = ports.readFile("config");
  if (text === undefined) return defaultConfig();
  const [config] = readConfig(text);
  return config ?? defaultConfig();
}

function takeBack(keeper: ConfigKeeper, revision: number): void {
  keeper.refused = revision;
  keeper.error = string.format("revision %d cut the node off and was taken back", revision);
  keeper.trialText = "";
  writeSafely(keeper.ports, "refused", string.format("%d", revision));
  keeper.ports.removeFile("config-trial");
}

export function openConfig(ports: Ports): ConfigKeeper {
  const keeper: ConfigKeeper = {
    ports,
    config: load(ports),
    before: undefined,
    trialText: "",
    trialSinceS: 0,
    connectedSinceS: -1,
    refused: tonumber(ports.readFile("refused") ?? "0") ?? 0,
    error: "",
  };
  const unproven = ports.readFile("config-trial");
  if (unproven !== undefined) {
    const [, , revision] = readConfig(unproven);
    // One start in the middle of a trial may be chance (somebody pulled the plug), two are not.
    if (tonumber(ports.readFile("tried") ?? "") === revision) {
      takeBack(keeper, revision);
    } else {
      writeSafely(ports, "tried", string.format("%d", revision));
      ports.removeFile("config-trial");
    }
  }
  return keeper;
}

/** Takes a `config` message. Returns true where the status has something new to say. */
export function offerConfig(keeper: ConfigKeeper, text: string, uptimeS: number): boolean {
  const [config, why, revision] = readConfig(text);
  if (config === undefined) {
    keeper.error = why;
    return true;
  }
  if (revision === keeper.refused) {
    keeper.error = string.format("revision %d cut the node off and was taken back", revision);
    return true;
  }
  if (revision === keeper.config.revision) {
    const news = keeper.error !== "";
    keeper.error = "";
    return news;
  }
  keeper.error = "";
  if (keeper.before === undefined) keeper.before = keeper.config;
  keeper.config = config;
  keeper.trialText = text;
  keeper.trialSinceS = uptimeS;
  keeper.connectedSinceS = -1;
  if (keeper.ports.hasFlash) writeSafely(keeper.ports, "config-trial", text);
  return true;
}

function keep(keeper: ConfigKeeper): void {
  const { ports } = keeper;
  if (ports.hasFlash) {
    // The trial file becomes the configuration in one step.
    if (!ports.renameFile("config-trial", "config")) writeSafely(ports, "config", keeper.trialText);
    ports.removeFile("tried");
  }
  keeper.before = undefined;
  keeper.trialText = "";
}

/** Keeps a configuration that is on trial: a node on a battery has been heard with it, and sleeps. */
export function settleConfig(keeper: ConfigKeeper): void {
  if (keeper.before !== undefined) keep(keeper);
}

/** Ends a trial, one way or the other; once a turn. True where the status has news. */
export function tendConfig(keeper: ConfigKeeper, uptimeS: number, online: boolean): boolean {
  if (keeper.before === undefined) return false;
  if (!online) keeper.connectedSinceS = -1;
  else if (keeper.connectedSinceS < 0) keeper.connectedSinceS = uptimeS;
  if (online && uptimeS - keeper.connectedSinceS >= trialS) {
    keep(keeper);
  } else if (!online && uptimeS - keeper.trialSinceS >= cutOffS) {
    const revision = keeper.config.revision;
    keeper.config = keeper.before;
    keeper.before = undefined;
    takeBack(keeper, revision);
    return true;
  }
  return false;
}
