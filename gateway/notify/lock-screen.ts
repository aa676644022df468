/** A lock screen shows about this much of one line. */
export const lineLimit = 160;
/** What to do keeps so much of the line whatever else is said. */
const stepShare = 90;

/** A text of at most `limit` characters, ended between two words where it must be cut. */
export function cutAtWord(text: string, limit: number): string {
  if (text.length <= limit) return text;
  const head = text.slice(0, limit);
  const space = head.lastIndexOf(" ");
  // A single word that is longer than the line, such as an address, has no better end.
  const kept = space > limit / 2 ? head.slice(0, space) : head.slice(0, limit - 1);
  return `${kept.replace(/[\s,;:.–-]+$/, "")}…`;
}

/** A line as a lock screen shows it. */
export function shorten(line: string): string {
  return cutAtWord(line.replace(/\s+/g, " ").trim(), lineLimit);
}

/**
 * Which station, what, how long there is, and what to do, on one line. What to do is never the part
 * that is cut off.
 */
export function lockScreenLine(name: string, title: string, firstStep: string): string {
  const plain = (text: string) => text.replace(/\s+/g, " ").trim();
  const said = `${plain(name)}: ${plain(title)}`;
  const step = plain(firstStep);
  const ends = /[.!?…]$/.test(said) ? "" : ".";
  if (step === "") return shorten(`${said}${ends}`);
  if (said.length + ends.length + 1 + step.length <= lineLimit) return `${said}${ends} ${step}`;
  const room = Math.max(stepShare, lineLimit - said.length - ends.length - 1);
  const shortStep = cutAtWord(step, room);
  const head = cutAtWord(`${said}${ends}`, lineLimit - 1 - shortStep.length);
  return `${head} ${shortStep}`;
}
