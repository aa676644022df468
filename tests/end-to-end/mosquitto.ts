import { execFile, spawn } from "node:child_process";
import { writeFileSync } from "node:fs";
import { connect, createServer } from "node:net";
import { join } from "node:path";
import { promisify } from "node:util";
import { eventually, temporaryFolder, whenOver } from "../gateway/support.ts";

const execute = promisify(execFile);

export async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const address = server.address();
  await new Promise((resolve) => server.close(resolve));
  if (typeof address !== "object" || address === null) throw new Error("no port");
  return address.port;
}

export interface Mosquitto {
  url: string;
  port: number;
  kill(): Promise<void>;
}

/** Debian's mosquitto on a free port of loopback, with its persistence in a folder of its own. */
export async function startMosquitto(
  options: { port?: number; folder?: string } = {},
): Promise<Mosquitto> {
  const port = options.port ?? (await freePort());
  const folder = options.folder ?? temporaryFolder();
  const settings = join(folder, "mosquitto.conf");
  writeFileSync(
    settings,
    [
      `listener ${port} 127.0.0.1`,
      "allow_anonymous true",
      "persistence true",
      `persistence_location ${folder}/`,
      "user root",
      "log_dest none",
      "",
    ].join("\n"),
  );
  const child = spawn("mosquitto", ["-c", settings], { stdio: "ignore" });
  const ended = new Promise<void>((resolve) => child.once("close", () => resolve()));
  const kill = async () => {
    child.kill("SIGTERM");
    await ended;
  };
  whenOver(kill);
  await eventually(
    () =>
      new Promise<boolean>((resolve) => {
        const socket = connect(port, "127.0.0.1");
        socket.once("connect", () => {
          socket.destroy();
          resolve(true);
        });
        socket.once("error", () => resolve(false));
      }),
    "mosquitto listens",
  );
  return { url: `mqtt://127.0.0.1:${port}`, port, kill };
}

/** Debian's mosquitto_pub, QoS 1: ends when the broker has acknowledged. */
export async function mosquittoPub(
  broker: string,
  topic: string,
  payload: unknown,
  extra: readonly string[] = [],
): Promise<void> {
  const { hostname, port } = new URL(broker);
  const text = typeof payload === "string" ? payload : JSON.stringify(payload);
  const args = ["-h", hostname, "-p", port, "-q", "1", "-t", topic, ...extra, "-s"];
  const run = execute("mosquitto_pub", args, { timeout: 20_000 });
  run.child.stdin?.end(text);
  await run;
}
