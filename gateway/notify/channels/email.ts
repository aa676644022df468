import { createHash } from "node:crypto";
import { Socket } from "node:net";
import { createTransport, type Transporter } from "nodemailer";
import { messageWords } from "../message-words.ts";
import type { OutboxRow } from "../outbox.ts";
import type { NotifySettings } from "../settings.ts";
import { type Channel, DeliveryError } from "./channel.ts";

const importance = { high: "high", medium: "normal", low: "low" } as const;

/** Stable Message-ID (RFC 5322): a mail client can tell a repeat from a new message. */
export function messageId(rowId: string): string {
  return `<${createHash("sha256").update(rowId).digest("hex").slice(0, 32)}@leeward.invalid>`;
}

/** E-mail by SMTP. `ca` adds a certificate authority of the shop's own mail server. */
export class EmailChannel implements Channel {
  readonly #smtp: NonNullable<NotifySettings["smtp"]>;
  readonly #ca: string | undefined;

  constructor(smtp: NonNullable<NotifySettings["smtp"]>, options: { ca?: string } = {}) {
    this.#smtp = smtp;
    this.#ca = options.ca;
  }

  async send(row: OutboxRow, repeat: boolean, timeoutMs: number): Promise<void> {
    if (row.way.kind !== "email") throw new DeliveryError("permanent", "this is no e-mail");
    const { message } = row;
    const words = messageWords[message.language ?? "en"];
    const link = message.link === null ? "" : `\n\n${words.link[message.kind]} ${message.link}`;
    const note = repeat ? `${words.repeatNote}\n\n` : "";
    const socket = new Socket();
    let stood = false;
    socket.once("connect", () => {
      stood = true;
    });
    const transport = this.#transport(socket, timeoutMs);
    try {
      await transport.sendMail({
        from: this.#smtp.from,
        to: row.way.to,
        subject: `${repeat ? `${words.repeat} ` : ""}${message.line}`,
        text: `${note}${message.body}${link}\n`,
        messageId: messageId(row.id),
        priority: importance[message.priority],
        headers: {
          "Content-Language": message.language ?? "en",
          "X-Leeward-Id": row.id,
          ...(repeat ? { "X-Leeward-Repeat": "1" } : {}),
          // No out-of-office answers (RFC 3834).
          "Auto-Submitted": "auto-generated",
        },
      });
    } catch (error) {
      throw smtpError(error, stood);
    } finally {
      transport.close();
      socket.destroy();
    }
  }

  #transport(socket: Socket, timeoutMs: number): Transporter {
    const { host, port, secure, requireTls, user, password } = this.#smtp;
    return createTransport({
      host,
      port,
      socket,
      secure,
      requireTLS: requireTls && !secure,
      connectionTimeout: timeoutMs,
      greetingTimeout: timeoutMs,
      socketTimeout: timeoutMs,
      ...(user === undefined ? {} : { auth: { user, pass: password ?? "" } }),
      ...(this.#ca === undefined ? {} : { tls: { ca: this.#ca } }),
    });
  }
}

/**
 * RFC 5321: 4yz may go better later, 5yz will not. A connection that stood and then broke off, or
 * stalled, leaves open whether the server took the message: no error says how far it had come.
 */
function smtpError(error: unknown, stood: boolean): DeliveryError {
  const { responseCode, code, message } = error as {
    responseCode?: number;
    code?: string;
    message?: string;
  };
  const text = message ?? String(error);
  if (responseCode !== undefined && responseCode >= 500) {
    return new DeliveryError("permanent", text);
  }
  // Where TLS fails no message has been said yet.
  const open = stood && responseCode === undefined && code !== "ETLS";
  return new DeliveryError(open ? "unknown" : "retry", text);
}
