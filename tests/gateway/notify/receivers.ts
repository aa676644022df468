import {
  createDecipheriv,
  createECDH,
  createHmac,
  createPublicKey,
  type ECDH,
  hkdfSync,
  randomBytes,
  verify,
} from "node:crypto";
import { createServer, type IncomingMessage } from "node:http";
import { createServer as createTlsServer } from "node:https";
import type { AddressInfo, Socket } from "node:net";
import { SMTPServer } from "smtp-server";
import { whenOver } from "../support.ts";
import { testCertificate, testKey } from "./test-certificate.ts";

/** Receivers of what the gateway sends: real servers, each on a free port, gone after the test. */

async function bodyOf(request: IncomingMessage): Promise<Buffer> {
  const parts: Buffer[] = [];
  for await (const part of request) parts.push(part as Buffer);
  return Buffer.concat(parts);
}

/**
 * Receiver side of RFC 8291 (aes128gcm, RFC 8188, one record). Throws where the content does not
 * belong to these keys.
 */
export function decryptPush(content: Buffer, keys: ECDH, auth: Buffer): string {
  const salt = content.subarray(0, 16);
  const recordSize = content.readUInt32BE(16);
  const idLength = content.readUInt8(20);
  const senderPublic = content.subarray(21, 21 + idLength);
  const record = content.subarray(21 + idLength);
  if (record.length > recordSize) throw new Error("more than one record");
  const shared = keys.computeSecret(senderPublic);
  const info = Buffer.concat([Buffer.from("WebPush: info\0"), keys.getPublicKey(), senderPublic]);
  const input = Buffer.from(hkdfSync("sha256", shared, auth, info, 32));
  const key = hkdfSync("sha256", input, salt, "Content-Encoding: aes128gcm\0", 16);
  const nonce = hkdfSync("sha256", input, salt, "Content-Encoding: nonce\0", 12);
  const decipher = createDecipheriv("aes-128-gcm", Buffer.from(key), Buffer.from(nonce));
  decipher.setAuthTag(record.subarray(-16));
  const padded = Buffer.concat([decipher.update(record.subarray(0, -16)), decipher.final()]);
  const end = padded.lastIndexOf(2);
  return padded.subarray(0, end).toString("utf8");
}

/** Claims of a VAPID header (RFC 8292); throws where the signature is not the key's. */
export function verifyVapid(authorization: string): Record<string, unknown> & { key: string } {
  const [, token = "", key = ""] = /^vapid t=([^,]+), ?k=(.+)$/.exec(authorization) ?? [];
  const [header = "", payload = "", signature = ""] = token.split(".");
  const point = Buffer.from(key, "base64url");
  const publicKey = createPublicKey({
    format: "jwk",
    key: {
      kty: "EC",
      crv: "P-256",
      x: point.subarray(1, 33).toString("base64url"),
      y: point.subarray(33, 65).toString("base64url"),
    },
  });
  const signed = verify(
    "sha256",
    Buffer.from(`${header}.${payload}`),
    { key: publicKey, dsaEncoding: "ieee-p1363" },
    Buffer.from(signature, "base64url"),
  );
  if (!signed) throw new Error("the signature is not the key's");
  return { ...JSON.parse(Buffer.from(payload, "base64url").toString("utf8")), key };
}

export interface PushReceived {
  message: Record<string, unknown>;
  headers: IncomingMessage["headers"];
  vapid: ReturnType<typeof verifyVapid>;
}

/** A push service on https that decrypts as the browser would. `answer` gives the status. */
export async function startPushService(answer: (count: number) => number = () => 201) {
  const keys = createECDH("prime256v1");
  keys.generateKeys();
  const auth = randomBytes(16);
  const received: PushReceived[] = [];
  let count = 0;
  const server = createTlsServer(
    { key: testKey, cert: testCertificate },
    async (request, response) => {
      const content = await bodyOf(request);
      const status = answer(++count);
      if (status < 300) {
        received.push({
          message: JSON.parse(decryptPush(content, keys, auth)) as Record<string, unknown>,
          headers: request.headers,
          vapid: verifyVapid(request.headers.authorization ?? ""),
        });
      }
      response.writeHead(status).end();
    },
  );
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  whenOver(() => {
    server.closeAllConnections();
    server.close();
  });
  const { port } = server.address() as AddressInfo;
  return {
    received,
    subscription: {
      endpoint: `https://127.0.0.1:${port}/send/1`,
      keys: {
        p256dh: keys.getPublicKey().toString("base64url"),
        auth: auth.toString("base64url"),
      },
    },
  };
}

export interface HookReceived {
  event: Record<string, unknown>;
  headers: IncomingMessage["headers"];
  signed: boolean;
}

/** A webhook receiver that checks the signature. `answer` gives the status of each request. */
export async function startWebhookReceiver(
  secret: string,
  answer: (count: number) => number = () => 204,
) {
  const received: HookReceived[] = [];
  let count = 0;
  const server = createServer(async (request, response) => {
    const body = await bodyOf(request);
    const status = answer(++count);
    const { "webhook-id": id, "webhook-timestamp": sent } = request.headers;
    const expected = createHmac("sha256", secret)
      .update(`${String(id)}.${String(sent)}.${body.toString("utf8")}`)
      .digest("base64");
    if (status < 300) {
      received.push({
        event: JSON.parse(body.toString("utf8")) as Record<string, unknown>,
        headers: request.headers,
        signed: request.headers["webhook-signature"] === `v1,${expected}`,
      });
    }
    response.writeHead(status).end();
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  whenOver(() => {
    server.closeAllConnections();
    server.close();
  });
  const { port } = server.address() as AddressInfo;
  return { received, url: `http://127.0.0.1:${port}/hook`, count: () => count };
}

/** A receiver that takes requests and never answers. */
export async function startSilentReceiver() {
  let asked = 0;
  const server = createServer(() => {
    asked++;
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const close = () => {
    server.closeAllConnections();
    server.close();
  };
  whenOver(close);
  const { port } = server.address() as AddressInfo;
  return { url: `http://127.0.0.1:${port}/hook`, asked: () => asked, close };
}

/** A mail server. `onMail` may hold the answer back, or refuse with an SMTP code. */
export async function startMailServer(
  onMail: (text: string, count: number) => Promise<number> = () => Promise.resolve(250),
) {
  const mails: string[] = [];
  let count = 0;
  const server = new SMTPServer({
    authOptional: true,
    key: testKey,
    cert: testCertificate,
    onData(stream, _session, callback) {
      const parts: Buffer[] = [];
      stream.on("data", (part: Buffer) => parts.push(part));
      stream.on("end", () => {
        const text = Buffer.concat(parts).toString("utf8");
        onMail(text, ++count).then(
          (code) => {
            if (code < 300) mails.push(text);
            callback(code < 300 ? null : Object.assign(new Error("no"), { responseCode: code }));
          },
          (error: Error) => callback(error),
        );
      });
    },
  });
  server.on("error", () => undefined);
  const sockets = new Set<Socket>();
  server.server.on("connection", (socket: Socket) => sockets.add(socket));
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", () => resolve()));
  whenOver(() => new Promise<void>((resolve) => server.close(() => resolve())));
  const { port } = server.server.address() as AddressInfo;
  /** Drops every connection in the middle of what is said. */
  const breakOff = () => {
    for (const socket of sockets) socket.destroy();
  };
  return { mails, port, count: () => count, breakOff };
}

/** A header of a mail, unfolded. */
export function mailHeader(mail: string, name: string): string | null {
  const head = mail.slice(0, mail.indexOf("\r\n\r\n")).replace(/\r\n[ \t]+/g, " ");
  const line = head
    .split("\r\n")
    .find((one) => one.toLowerCase().startsWith(`${name.toLowerCase()}:`));
  return line === undefined ? null : line.slice(name.length + 1).trim();
}
