import { settingInfos } from "./schema.ts";

/** docs/settings.md, made from the schema. */
export function settingsDocument(): string {
  const rows = settingInfos().map((setting) => {
    const fallback = setting.fallback === null ? "" : `\`${setting.fallback}\``;
    const flag = `\`${setting.flag} ${setting.placeholder.replaceAll("|", "\\|")}\``;
    return `| ${flag} | \`${setting.variable}\` | ${fallback} | ${setting.description} |`;
  });
  return [
    "# Settings of `leeward run`",
    "",
    "A flag wins over an environment variable, a variable over the default. `--no-virtual` stands for",
    "`--virtual off`. Faults are told all at once, before anything starts. This page is made by",
    "`npx leeward settings > docs/settings.md`.",
    "",
    "| flag | variable | default | |",
    "|---|---|---|---|",
    ...rows,
    "",
  ].join("\n");
}
