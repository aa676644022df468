import { createServer, type Server } from "node:net";

/** A port that cannot be had, with the way out in its message. */
export class PortTakenError extends Error {
  readonly port: number;
  constructor(port: number, host: string, cause: unknown) {
    super(`port ${port} on ${host} is taken`, { cause });
    this.name = "PortTakenError";
    this.port = port;
  }
}

/** How many ports are tried after the wanted one. */
const portsToTry = 20;

/**
 * Listens on `port`, or, where `searchPort` says so, on the next free one after it; 0 lets the
 * system choose. Returns the port. Rejects with `PortTakenError` where none is free.
 */
export async function listenOnFreePort(
  server: Server,
  options: { host: string; port: number; searchPort: boolean },
): Promise<number> {
  const last = options.searchPort && options.port !== 0 ? options.port + portsToTry : options.port;
  for (let port = options.port; ; port++) {
    try {
      await listen(server, port, options.host);
      const address = server.address();
      return typeof address === "object" && address !== null ? address.port : port;
    } catch (error) {
      const code = (error as NodeJS.ErrnoException).code;
      if (code !== "EADDRINUSE" || port >= last) {
        throw code === "EADDRINUSE" ? new PortTakenError(options.port, options.host, error) : error;
      }
    }
  }
}

/**
 * Takes a port as `listenOnFreePort` would, before whoever is to listen there is ready; `release`
 * gives it up to that one. Rejects with `PortTakenError` where none is free.
 */
export async function holdPort(options: {
  host: string;
  port: number;
  searchPort: boolean;
}): Promise<{ port: number; release: () => Promise<void> }> {
  const server = createServer((socket) => socket.destroy());
  const port = await listenOnFreePort(server, options);
  // Released once, whether it is handed over or the start ends before.
  let released: Promise<void> | null = null;
  const release = () => {
    released ??= new Promise((resolve) => server.close(() => resolve()));
    return released;
  };
  return { port, release };
}

/** How a browser or a node on this machine writes the address; "everywhere" is reached as loopback. */
export function hostInUrl(host: string): string {
  if (host === "0.0.0.0") return "127.0.0.1";
  if (host === "::") return "[::1]";
  return host.includes(":") ? `[${host}]` : host;
}

function listen(server: Server, port: number, host: string): Promise<void> {
  return new Promise((resolve, reject) => {
    const fail = (error: Error) => {
      server.off("listening", succeed);
      reject(error);
    };
    const succeed = () => {
      server.off("error", fail);
      resolve();
    };
    server.once("error", fail);
    server.once("listening", succeed);
    server.listen(port, host);
  });
}
