import { parseArgs } from "node:util";
import { startGateway } from "../run/run.ts";
import { StartError } from "../run/start-error.ts";
import { loadSettings } from "../settings/load.ts";
import { type SettingName, settingInfos } from "../settings/schema.ts";
import { type CommandIo, UsageError } from "./io.ts";

/** How long stopping may take before it is cut short, ms. */
const stopLimitMs = 15_000;

/** `leeward run`: the gateway, until it is told to stop. */
export async function runRun(args: string[], io: CommandIo): Promise<number> {
  const loaded = loadSettings(readFlags(args), io.environment);
  if (!loaded.ok) throw new StartError(loaded.message);
  const stopAsked = new Promise<string>((resolve) => {
    for (const signal of ["SIGINT", "SIGTERM"] as const) {
      process.once(signal, () => resolve(signal));
    }
  });
  const say = (line: string) => io.out(`${line}\n`);
  const running = await startGateway(loaded.settings, say);
  say(`Leeward: dashboard and API on ${running.httpUrl}, broker on ${running.brokerUrl}`);
  const failed = running.ready.then(
    (isReady) => {
      if (isReady) say("Ready. Stop with Ctrl-C.");
      return new Promise<never>(() => undefined);
    },
    (error: unknown) => ({ error }),
  );
  const end = await Promise.race([stopAsked, failed]);
  if (typeof end !== "string") throw end.error;
  say("Stopping …");
  const cutShort = setTimeout(() => {
    io.error("leeward: stopping took too long; what was acknowledged is stored.\n");
    process.exit(1);
  }, stopLimitMs);
  await running.stop();
  clearTimeout(cutShort);
  say("Stopped.");
  return 0;
}

function readFlags(args: string[]): Partial<Record<SettingName, string>> {
  const infos = settingInfos();
  const flags: Partial<Record<SettingName, string>> = {};
  let values: Record<string, string | boolean | undefined>;
  try {
    ({ values } = parseArgs({
      args,
      strict: true,
      allowPositionals: false,
      options: {
        ...Object.fromEntries(
          infos.map((info) => [info.flag.slice(2), { type: "string" as const }]),
        ),
        "no-virtual": { type: "boolean" as const },
      },
    }));
  } catch (error) {
    throw new UsageError(error instanceof Error ? error.message : String(error));
  }
  for (const { name, flag } of infos) {
    const value = values[flag.slice(2)];
    if (typeof value === "string") flags[name] = value;
  }
  if (values["no-virtual"] === true) flags.virtual = "off";
  return flags;
}
