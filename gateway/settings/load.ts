import { type SettingName, type Settings, settingInfos, settingsSchema } from "./schema.ts";

export type LoadedSettings = { ok: true; settings: Settings } | { ok: false; message: string };

/**
 * Settings from flags, then environment variables, then defaults. All faults are told at once, each
 * with the name under which it was given.
 */
export function loadSettings(
  flags: Readonly<Partial<Record<SettingName, string>>>,
  environment: Readonly<Record<string, string | undefined>>,
): LoadedSettings {
  const infos = settingInfos();
  const given: Record<string, string> = {};
  const source = new Map<string, string>();
  for (const { name, flag, variable } of infos) {
    const fromEnvironment = environment[variable];
    if (flags[name] !== undefined) {
      given[name] = flags[name];
      source.set(name, flag);
    } else if (fromEnvironment !== undefined && fromEnvironment !== "") {
      given[name] = fromEnvironment;
      source.set(name, variable);
    }
  }
  const unknown = unknownVariables(environment, new Set(infos.map((info) => info.variable)));
  const parsed = settingsSchema.safeParse(given);
  const faults = parsed.success
    ? []
    : parsed.error.issues.map((issue) => {
        const name = String(issue.path[0] ?? "");
        return `${source.get(name) ?? name} is "${given[name] ?? ""}": ${issue.message}.`;
      });
  faults.push(
    ...unknown.map(
      (variable) => `${variable} is no setting: see docs/settings.md, or leeward run --help.`,
    ),
  );
  if (!parsed.success || faults.length > 0) return { ok: false, message: faults.join("\n") };
  return { ok: true, settings: parsed.data };
}

/** A misspelt variable must not pass for a setting that was made. */
function unknownVariables(
  environment: Readonly<Record<string, string | undefined>>,
  known: ReadonlySet<string>,
): string[] {
  return Object.keys(environment)
    .filter((name) => name.startsWith("LEEWARD_") && !known.has(name))
    .sort();
}

/** True where only this machine can reach the address. */
export function isLoopback(host: string): boolean {
  return host === "localhost" || host === "::1" || /^127(\.\d{1,3}){3}$/.test(host);
}
