import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { SiteDocument } from "@leeward/shared-core/documents/station.ts";
import {
  createUndoableEngine,
  restoreUndoableEngine,
} from "@leeward/shared-core/estimation/undoable-engine.ts";
import { EmbeddedBroker } from "../broker/embedded-broker.ts";
import type { MessageLink } from "../broker/link.ts";
import { SiteSession } from "../broker/site-session.ts";
import { type Clock, createWallClock } from "../clock.ts";
import { createHttpServer } from "../http/server.ts";
import { holdPort, hostInUrl, listenOnFreePort, PortTakenError } from "../listen.ts";
import type { EngineFactory } from "../live/supply-runner.ts";
import { createLogger, type Logger } from "../log.ts";
import { Enrolment } from "../nodes/enrolment.ts";
import { NodeAccess } from "../nodes/node-access.ts";
import { isLoopback } from "../settings/load.ts";
import type { Settings } from "../settings/schema.ts";
import { SiteDocuments } from "../sites/site-documents.ts";
import { openSqliteStore } from "../store/open-sqlite.ts";
import type { GatewayStore } from "../store/store.ts";
import { leewardVersion } from "../version.ts";
import { prepareDataFolder } from "./data-folder.ts";
import {
  createDemo,
  type Demo,
  demoEnded,
  demoSite,
  forgetDemo,
  type StoredStations,
  storedStations,
} from "./demo.ts";
import { Gateway } from "./gateway.ts";
import { createMetrics } from "./metrics.ts";
import { StartError } from "./start-error.ts";

/** The built dashboard; `npm run build` makes it. */
const dashboardDir = fileURLToPath(new URL("../../dashboard/dist", import.meta.url));

export const engineFactory: EngineFactory = {
  create: createUndoableEngine,
  restore: restoreUndoableEngine,
};

/** A gateway that runs. */
export interface RunningGateway {
  httpUrl: string;
  brokerUrl: string;
  /** True when messages are taken, false where it was told to stop before; rejects where starting failed. */
  ready: Promise<boolean>;
  stop(): Promise<void>;
}

/**
 * Starts everything that `leeward run` runs. HTTP answers when this resolves; the rest goes on
 * and shows its progress there. `say` prints to the person who started it.
 * Rejects with `StartError` for what that person can put right.
 */
export async function startGateway(
  settings: Settings,
  say: (line: string) => void,
): Promise<RunningGateway> {
  const log = createLogger(settings.logLevel);
  const dataDir = prepareDataFolder(settings.data);
  const undo: (() => Promise<unknown>)[] = [];
  const stopAll = async () => {
    for (const step of undo.splice(0).reverse()) {
      try {
        await step();
      } catch (error) {
        log.error({ error: String(error) }, "stopping was not clean");
      }
    }
  };
  try {
    const store = await openStore(join(dataDir, "leeward.sqlite"));
    undo.push(() => store.close());
    if (!isLoopback(settings.host)) await requireOwner(settings.host, store, say);
    const found = await storedStations(store);
    const realStations = found.real.length;
    const withDemo = settings.virtual === "auto" && realStations === 0;
    if (settings.demoSpeed !== 1 && !withDemo) {
      throw new StartError(
        `--demo-speed ${settings.demoSpeed} is for virtual stations only, and ${realStations > 0 ? "real stations are set up" : "they are switched off"}. Leave it out.`,
      );
    }
    const clock = createWallClock({ speed: settings.demoSpeed });
    return await startParts(settings, {
      store,
      clock,
      log,
      dataDir,
      withDemo,
      found,
      say,
      undo,
      stopAll,
    });
  } catch (error) {
    await stopAll();
    throw error;
  }
}

interface Parts {
  store: GatewayStore;
  clock: Clock;
  log: Logger;
  dataDir: string;
  withDemo: boolean;
  found: StoredStations;
  say: (line: string) => void;
  undo: (() => Promise<unknown>)[];
  stopAll: () => Promise<void>;
}

async function startParts(settings: Settings, parts: Parts): Promise<RunningGateway> {
  const { store, clock, log, dataDir, withDemo, found, say, undo, stopAll } = parts;
  // Nodes look for a real gateway where it was: its ports do not move.
  const searchPort = found.real.length === 0;
  const required = settings.nodes === "enrolled" || !isLoopback(settings.host);
  const { enrolments } = store;
  const access = new NodeAccess({ store: enrolments, clock, required, demoSite });
  // Stops run in reverse: first no more messages, then the queue is emptied, then the store closes.
  let stopGateway = async () => {};
  undo.push(() => stopGateway());
  const link = await openLink(settings, { dataDir, searchPort, log, say, withDemo, access });
  undo.push(() => link.stop());

  const { host, port } = settings;
  const held = await listenOrExplain(() => holdPort({ host, port, searchPort }), "--port");
  undo.push(() => held.release());

  // Only now: a start that is refused, since another gateway uses the folder or the dashboard's port
  // is taken, must have deleted nothing.
  await forgetDemo(store, found.virtual, clock.nowS());
  const ended = demoEnded(found, withDemo);
  if (ended !== null) say(ended);

  const demoNodes = new Set<string>();
  const home = await homeSite(settings, withDemo, store);
  const timeZone = home.document?.timeZone ?? settings.timeZone;
  const gateway = new Gateway({
    store,
    clock,
    log,
    factory: engineFactory,
    site: settings.site,
    timeZone,
    retention: { rawDays: settings.rawDays, minuteDays: settings.minuteDays },
    allowNode: (site, node) => clock.speed === 1 || demoNodes.has(`${site}/${node}`),
  });
  stopGateway = () => gateway.stop();
  await gateway.open();

  let demo: Demo | null = null;
  if (withDemo) {
    const brokerUrl = settings.brokerUrl ?? link.url;
    const { username, password } = access.demo;
    demo = createDemo({
      clock,
      brokerUrl,
      ...(settings.brokerUrl === undefined ? { credentials: { username, password } } : {}),
      hours: settings.demoHours,
      rack: store.rack,
      log,
      gateway: () => gateway,
    });
    gateway.sites.assume({ ...demo.shop.site, site: demoSite });
    for (const station of demo.shop.stations) demoNodes.add(`${demoSite}/${station.node}`);
  }
  const siteName = settings.siteName ?? demo?.shop.site.name ?? settings.site;
  const http = await createHttpServer(
    {
      version: leewardVersion,
      clock,
      store,
      alarms: gateway.alarms,
      directory: gateway.directory,
      service: gateway.service,
      bus: gateway.bus,
      site: {
        id: home.site,
        // What is real has a site of its own, which stays when the demo is deleted.
        ...(withDemo ? { own: settings.site } : {}),
        name: siteName,
        timeZone,
      },
      retention: { rawDays: settings.rawDays, minuteDays: settings.minuteDays },
      readiness: () => gateway.readiness(),
      metrics: createMetrics(gateway),
    },
    {
      dashboardDir,
      log,
      loopbackOnly: isLoopback(settings.host),
      reach: {
        required,
        embedded: settings.brokerUrl === undefined,
        port: Number(new URL(link.url).port) || null,
      },
    },
  );
  await http.ready();
  await held.release();
  const httpPort = await listenOrExplain(
    () => listenOnFreePort(http.server, { host, port: held.port, searchPort }),
    "--port",
  );
  undo.push(() => http.close());
  if (port !== 0 && httpPort !== port)
    say(`Port ${port} is taken; the dashboard is on ${httpPort}.`);
  const httpUrl = `http://${hostInUrl(host)}:${httpPort}`;

  const ready = begin(gateway, link, demo, undo).catch(async (error: unknown) => {
    // Told to stop amid its past: that is no failure.
    if (gateway.stopping) return false;
    await stopAll();
    throw error;
  });
  const stop = async () => {
    gateway.announceStop();
    await stopAll();
    await ready;
  };
  return { httpUrl, brokerUrl: link.url, ready, stop };
}

/** The site that lists and Setup show, with what Setup says of it; the settings stand back behind that. */
async function homeSite(
  settings: Settings,
  withDemo: boolean,
  store: GatewayStore,
): Promise<{ site: string; document: SiteDocument | null }> {
  const described = new Set((await store.descriptions()).map((record) => record.site));
  const [other] = described;
  const own = described.has(settings.site) || other === undefined ? settings.site : other;
  const site = withDemo ? demoSite : own;
  const sites = new SiteDocuments(store);
  await sites.load([site]);
  return { site, document: sites.get(site)?.document ?? null };
}

/** What takes its time: the past, then the present. */
async function begin(
  gateway: Gateway,
  link: MessageLink,
  demo: Demo | null,
  undo: (() => Promise<unknown>)[],
): Promise<boolean> {
  await gateway.restore();
  if (demo) {
    undo.push(() => demo.shop.stop());
    await demo.prepare(gateway);
  }
  if (gateway.stopping) return false;
  await gateway.serve(link);
  await demo?.shop.start();
  return true;
}

/** Beyond this machine somebody must be answerable: nodes need credentials, and one who gives them. */
async function requireOwner(
  host: string,
  store: GatewayStore,
  say: (line: string) => void,
): Promise<void> {
  if (!(await new Enrolment(store.enrolments).hasOwner())) {
    throw new StartError(
      `--host ${host} opens Leeward to the network, and it has no owner yet. Run \`npx leeward owner\` once (with the same --data), keep the key it shows, and start again.`,
    );
  }
  say(
    `Warning: --host ${host} lets everybody who can reach this machine see the dashboard and use it, without a password; nodes need credentials, and enrolling them the owner's key. Use it only in a network whose people you trust.`,
  );
}

async function openStore(file: string): Promise<GatewayStore> {
  try {
    return await openSqliteStore(file);
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    throw new StartError(
      `The store ${file} cannot be opened (${reason}). Check its owner and that no other program holds it, move it away to begin anew, or choose another folder with --data.`,
      error,
    );
  }
}

async function openLink(
  settings: Settings,
  options: {
    dataDir: string;
    searchPort: boolean;
    log: Logger;
    say: (line: string) => void;
    withDemo: boolean;
    access: NodeAccess;
  },
): Promise<MessageLink> {
  const { dataDir, searchPort, log, say, withDemo, access } = options;
  if (settings.brokerUrl !== undefined) {
    const others = withDemo && settings.site !== demoSite ? [demoSite] : [];
    return new SiteSession({ url: settings.brokerUrl, sites: [settings.site, ...others], log });
  }
  const { host, mqttPort: port } = settings;
  const link = await listenOrExplain(
    () => EmbeddedBroker.open({ dataDir, host, port, searchPort, access }),
    "--mqtt-port",
    dataDir,
  );
  const taken = Number(new URL(link.url).port);
  if (port !== 0 && taken !== port) say(`Port ${port} is taken; the broker is on ${taken}.`);
  return link;
}

async function listenOrExplain<T>(
  open: () => Promise<T>,
  flag: string,
  dataDir?: string,
): Promise<T> {
  try {
    return await open();
  } catch (error) {
    if (error instanceof PortTakenError) {
      throw new StartError(
        `Port ${error.port} is taken by another program. Stop it (perhaps another gateway), or choose another port with ${flag}; nodes then have to be told.`,
        error,
      );
    }
    const code =
      (error as { cause?: NodeJS.ErrnoException }).cause?.code ??
      (error as NodeJS.ErrnoException).code;
    if (code === "LEVEL_LOCKED") {
      throw new StartError(
        `Another gateway uses the data folder ${dataDir}. Stop it, or choose another folder with --data.`,
        error,
      );
    }
    if (code === "EACCES" || code === "EADDRNOTAVAIL" || code === "ENOTFOUND") {
      throw new StartError(
        `It cannot listen there (${code}). Check --host, and use ports from 1024 on with ${flag}.`,
        error,
      );
    }
    throw error;
  }
}
