/** One HTTP conversation with a phone: takes what comes in pieces, gives the answer when it is all there. */

const longest = 3000;

export interface Talk {
  text: string;
  answered: boolean;
}

export interface Request {
  method: string;
  path: string;
  body: string;
}

/** Takes a piece. The request when it is complete; a text where it is none; undefined while it is not. */
export function hearPiece(talk: Talk, data: string): Request | string | undefined {
  if (talk.answered) return undefined;
  talk.text += data;
  if (talk.text.length > longest) return "413 Content Too Large";
  const [from, to] = string.find(talk.text, "\r\n\r\n", 1, true);
  if (from === undefined || to === undefined) return undefined;
  const [method, path] = string.match(talk.text, "^(%u+) (%S+) HTTP/1%.%d\r\n");
  if (method === undefined || path === undefined) return "400 Bad Request";
  const header = string.sub(talk.text, 1, from);
  const [length] = string.match(header, "\n[Cc]ontent%-[Ll]ength: *(%d+)");
  const bytes = length === undefined || length.length > 5 ? 0 : (tonumber(length) ?? 0);
  if (bytes > longest) return "413 Content Too Large";
  const body = string.sub(talk.text, to + 1);
  if (body.length < bytes) return undefined;
  return { method, path, body: string.sub(body, 1, bytes) };
}

function plain(hex: string): string {
  const [digits] = string.match(hex, "%x%x");
  return string.char(tonumber(digits ?? "20", 16) ?? 32);
}

/** A field of a form (application/x-www-form-urlencoded); "" where it is not there. */
export function formField(body: string, name: string): string {
  const [value] = string.match(`&${body}&`, `&${name}=([^&]*)&`);
  const [spaced] = string.gsub(value ?? "", "%+", " ");
  const [decoded] = string.gsub(spaced, "%%%x%x", plain);
  return decoded;
}

/** Status line and headers before the pieces of a page. */
export function answerHead(status: string, pieces: readonly string[], more: string): string {
  let bytes = 0;
  for (const piece of pieces) bytes += piece.length;
  return string.format(
    "HTTP/1.1 %s\r\nContent-Type: text/html; charset=utf-8\r\nContent-Length: %d\r\n" +
      "Cache-Control: no-store\r\nConnection: close\r\n%s\r\n",
    status,
    bytes,
    more,
  );
}
