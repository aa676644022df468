import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { createInterface } from "node:readline";
import { parseArgs } from "node:util";
import { placeOfNodeSchema } from "@leeward/shared-core/api/enrolment.ts";
import { nameSchema } from "@leeward/shared-core/documents/common.ts";
import { nodeTopic } from "@leeward/shared-core/messages/topics.ts";
import { commandName } from "@leeward/shared-core/messages/wire-names.ts";
import { createWallClock } from "../clock.ts";
import { Enrolment, userOf } from "../nodes/enrolment.ts";
import { provisionOf } from "../nodes/provision.ts";
import { signUpdate } from "../nodes/secrets.ts";
import { prepareDataFolder } from "../run/data-folder.ts";
import { StartError } from "../run/start-error.ts";
import { openSqliteStore } from "../store/open-sqlite.ts";
import type { GatewayStore } from "../store/store.ts";
import { type CommandIo, UsageError } from "./io.ts";

type Values = Record<string, string | boolean | undefined>;

type Action = "enrol" | "list" | "revoke" | "update";
type Flags = Record<string, { type: "string" | "boolean" }>;

const text = { type: "string" as const };
const flag = { type: "boolean" as const };
const options: Readonly<Record<Action, Flags>> = {
  enrol: {
    data: text,
    out: text,
    again: flag,
    ssid: text,
    "network-password": text,
    gateway: text,
    authority: text,
    "time-server": text,
  },
  list: { data: text, json: flag },
  revoke: { data: text },
  update: { data: text, bundle: text, url: text, minutes: text },
};

/** `leeward node …`: credentials of nodes, and the file to put on them. */
export async function runNode(args: string[], io: CommandIo): Promise<number> {
  const [action, ...rest] = args;
  if (action !== "enrol" && action !== "list" && action !== "revoke" && action !== "update") {
    throw new UsageError(
      `leeward node takes enrol, list, revoke or update${action === undefined ? "" : `, not "${action}"`}.`,
    );
  }
  let values: Values;
  let names: string[];
  try {
    const parsed = parseArgs({
      args: rest,
      strict: true,
      allowPositionals: true,
      options: options[action],
    });
    values = parsed.values as Values;
    names = parsed.positionals;
  } catch (error) {
    throw new UsageError(error instanceof Error ? error.message : String(error));
  }
  if (action === "list") {
    if (names.length > 0) throw new UsageError("leeward node list takes no name.");
    return withStore(values, io, (store) => list(store, values.json === true, io));
  }
  const [name, ...more] = names;
  if (name === undefined || more.length > 0) {
    throw new UsageError(`leeward node ${action} takes one <site>/<node>.`);
  }
  const { site, node } = readName(name);
  if (action === "revoke") return withStore(values, io, (store) => revoke(store, site, node, io));
  if (action === "update") {
    return withStore(values, io, (store) => update(store, site, node, values, io));
  }
  return withStore(values, io, (store) => enrol(store, site, node, values, io));
}

async function enrol(
  store: GatewayStore,
  site: string,
  node: string,
  values: Values,
  io: CommandIo,
): Promise<number> {
  const place = await readPlace(values, io);
  const out = resolve(textOf(values, "out") ?? `provision-${site}-${node}`);
  const enrolment = new Enrolment(store.enrolments);
  const made = await enrolment.enrol(site, node, values.again === true, nowS());
  if (!made.ok) {
    throw new StartError(`${made.message}. Say --again where that is meant.`);
  }
  const { credentials } = made;
  const provision = `${JSON.stringify(provisionOf(credentials, place), null, 2)}\n`;
  try {
    writeFileSync(out, provision, { mode: 0o600 });
  } catch (error) {
    await enrolment.revoke(site, node, nowS());
    throw new StartError(
      `${out} cannot be written (${error instanceof Error ? error.message : String(error)}); the credentials were taken back. Choose another file with --out.`,
    );
  }
  const missing = [
    ...(place.ssid === undefined ? ["network (--ssid)"] : []),
    ...(place.host === undefined ? ["gateway (--gateway)"] : []),
  ];
  const lines = [
    `Enrolled ${credentials.user}.`,
    "",
    `  User      ${credentials.user}`,
    `  Password  ${credentials.secret}`,
    `  Code      ${credentials.code}`,
    `  File      ${out}`,
    "",
    "The password is shown this once; the store keeps its hash, and in clear the key made from it that signs updates.",
    `Put the file on the node as "provision", or type the code in the node's own set-up; then delete the file.`,
    ...(missing.length > 0
      ? [`The file names no ${missing.join(" and no ")}: the node's set-up will ask for it.`]
      : []),
  ];
  io.out(`${lines.join("\n")}\n`);
  return 0;
}

async function list(store: GatewayStore, json: boolean, io: CommandIo): Promise<number> {
  const records = await store.enrolments.list();
  const rows = records.map((record) => ({
    user: userOf(record.site, record.node),
    issued: toIso(record.issuedS),
    revoked: toIso(record.revokedS),
    lastLogin: toIso(record.lastLoginS),
  }));
  if (json) {
    io.out(`${JSON.stringify(rows, null, 2)}\n`);
    return 0;
  }
  if (rows.length === 0) {
    io.out("No node is enrolled. Enrol one: leeward node enrol <site>/<node>\n");
    return 0;
  }
  const width = Math.max(...rows.map((row) => row.user.length));
  for (const row of rows) {
    const state = row.revoked === null ? `issued ${row.issued}` : `revoked ${row.revoked}`;
    const login = row.lastLogin === null ? "never logged in" : `last login ${row.lastLogin}`;
    io.out(`${row.user.padEnd(width)}  ${state}, ${login}\n`);
  }
  return 0;
}

async function revoke(
  store: GatewayStore,
  site: string,
  node: string,
  io: CommandIo,
): Promise<number> {
  const done = await new Enrolment(store.enrolments).revoke(site, node, nowS());
  if (!done.ok) throw new StartError(`${done.message}. leeward node list shows who is.`);
  io.out(`Revoked ${userOf(site, node)}: it is cut off within seconds.\n`);
  return 0;
}

/** Prints the command that makes a node fetch a bundle; sending it is the owner's, over MQTT. */
async function update(
  store: GatewayStore,
  site: string,
  node: string,
  values: Values,
  io: CommandIo,
): Promise<number> {
  const file = textOf(values, "bundle");
  const url = textOf(values, "url");
  if (file === undefined || url === undefined) {
    throw new UsageError("leeward node update needs --bundle FILE and --url URL.");
  }
  if (!/^http:\/\/[^/]+\/\S*$/.test(url)) {
    throw new UsageError(`--url is "${url}"; it must be such as http://192.0.2.10:8081/node.lua.`);
  }
  const minutes = Number(textOf(values, "minutes") ?? "10");
  if (!(minutes > 0 && minutes <= 1440)) throw new UsageError("--minutes must be from 1 to 1440.");
  const known = await store.enrolments.get(site, node);
  if (!known || known.revokedS !== null) {
    throw new StartError(`${userOf(site, node)} is not enrolled, so it has no key to sign with.`);
  }
  const bundle = readFileOr(file, "--bundle");
  const message = {
    id: `update-${Math.round(nowS())}`,
    do: commandName.update,
    url,
    bytes: bundle.length,
    hmac: signUpdate(known.updateKey, bundle),
    expires: Math.round(nowS() + minutes * 60),
  };
  io.error(`Send this to ${nodeTopic(site, node, "command")}, as the owner, with QoS 1:\n`);
  io.out(`${JSON.stringify(message)}\n`);
  return 0;
}

async function readPlace(values: Values, io: CommandIo) {
  const [, host, port] = /^(.*?)(?::(\d+))?$/.exec(textOf(values, "gateway") ?? "") ?? [];
  const authority = textOf(values, "authority");
  const ssid = textOf(values, "ssid");
  const timeServer = textOf(values, "time-server");
  let password = textOf(values, "network-password");
  if (password === "-") password = await firstLine(io.stdin);
  const parsed = placeOfNodeSchema.safeParse({
    ...(ssid === undefined ? {} : { ssid }),
    ...(password === undefined ? {} : { password }),
    ...(host ? { host } : {}),
    ...(port === undefined ? {} : { port: Number(port) }),
    ...(authority === undefined
      ? {}
      : { tls: true, authority: readFileOr(authority, "--authority").toString("utf8") }),
    ...(timeServer === undefined ? {} : { timeServer }),
  });
  if (parsed.success) return parsed.data;
  const flags: Record<string, string> = {
    ssid: "--ssid",
    password: "--network-password",
    host: "--gateway",
    port: "--gateway",
    authority: "--authority",
    timeServer: "--time-server",
  };
  throw new UsageError(
    parsed.error.issues
      .map((issue) => `${flags[String(issue.path[0])] ?? issue.path.join(".")} ${issue.message}.`)
      .join(" "),
  );
}

async function withStore(
  values: Values,
  io: CommandIo,
  work: (store: GatewayStore) => Promise<number>,
): Promise<number> {
  const store = await openCredentialStore(textOf(values, "data"), io);
  try {
    return await work(store);
  } finally {
    await store.close();
  }
}

/** The store of a data folder, made where there is none yet; a gateway may be using it. */
export async function openCredentialStore(
  data: string | undefined,
  io: CommandIo,
): Promise<GatewayStore> {
  const folder = prepareDataFolder(data ?? io.environment.LEEWARD_DATA ?? "./data");
  const file = join(folder, "leeward.sqlite");
  try {
    return await openSqliteStore(file);
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    throw new StartError(`The store ${file} cannot be opened (${reason}).`, error);
  }
}

function readName(name: string): { site: string; node: string } {
  const [site, node, ...more] = name.split(/[/.]/);
  const fits = nameSchema.safeParse(site).success && nameSchema.safeParse(node).success;
  if (!fits || more.length > 0) {
    throw new UsageError(
      `"${name}" is no <site>/<node>; each is of lower-case letters, digits and single hyphens.`,
    );
  }
  return { site: site!, node: node! };
}

function readFileOr(path: string, flagName: string): Buffer {
  if (!existsSync(path)) throw new StartError(`There is no file ${path} (${flagName}).`);
  return readFileSync(path);
}

async function firstLine(input: NodeJS.ReadableStream): Promise<string> {
  for await (const line of createInterface({ input })) return line;
  return "";
}

function textOf(values: Values, name: string): string | undefined {
  const value = values[name];
  return typeof value === "string" ? value : undefined;
}

function nowS(): number {
  return createWallClock({ speed: 1 }).nowS();
}

function toIso(seconds: number | null): string | null {
  return seconds === null ? null : new Date(seconds * 1000).toISOString();
}
