/** What a scanned or typed code names. */
export interface JobCode {
  procedure?: string;
  job?: string;
  welder?: string;
}

const parts = { P: "procedure", J: "job", W: "welder" } as const;

/**
 * Reads `P:WPS-12 J:4711 W:Anna`: one, two or all three, in any order, parted by space, comma,
 * semicolon or line. Null where nothing in it is known. A text without any prefix is a job number.
 */
export function readJobCode(text: string): JobCode | null {
  const code: JobCode = {};
  const trimmed = text.trim();
  if (trimmed === "") return null;
  const found = trimmed.matchAll(
    /(?:^|[\s,;])([PJW])[:=]\s*(.+?)(?=(?:[\s,;]+[PJW][:=])|[\s,;]*$)/gis,
  );
  for (const [, letter, value] of found) {
    const key = parts[(letter ?? "").toUpperCase() as keyof typeof parts];
    const clean = value?.trim() ?? "";
    if (key && clean !== "" && clean.length <= 120) code[key] = clean;
  }
  if (Object.keys(code).length > 0) return code;
  return /^[\w./-]{1,40}$/.test(trimmed) ? { job: trimmed } : null;
}
