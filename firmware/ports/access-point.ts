/** The node's own access point and web server, for its set-up by phone. */
import type { Reach } from "../src/ports.ts";
import type { Chip } from "./chip.ts";

const idleS = 30;
/** Phones that joined the access point get addresses of this net; nobody else is answered. */
const ownNet = "192.168.4.";

export interface AccessPoint {
  chip: Chip;
  reach: Reach | undefined;
  server: Server | undefined;
}

/** Sends the pieces one after the other: the radio takes one at a time. */
function sendAll(socket: Socket, pieces: readonly string[]): void {
  let next = 0;
  const step = (): void => {
    if (next >= pieces.length) {
      socket.close();
      return;
    }
    next += 1;
    socket.send(pieces[next - 1]);
  };
  socket.on("sent", step);
  step();
}

function serve(access: AccessPoint, socket: Socket): void {
  const { reach } = access;
  const [, address] = socket.getpeer();
  if (reach === undefined || string.sub(address ?? "", 1, ownNet.length) !== ownNet) {
    socket.close();
    return;
  }
  const conversation = reach.converse();
  socket.on("receive", (_socket, data) => {
    const pieces = conversation.take(data);
    if (pieces !== undefined) sendAll(socket, pieces);
  });
}

export function openAccessPoint(
  access: AccessPoint,
  name: string,
  password: string,
  alone: boolean,
): void {
  access.chip.openAccess(name, password, alone);
  if (access.server !== undefined) return;
  const server = net.createServer(net.TCP, idleS);
  access.server = server;
  server.listen(80, (socket) => serve(access, socket));
  print(
    `leeward: set-up at http://192.168.4.1/ in the network ${name}${password === "" ? "" : " (password: the last two groups of the node's code, without hyphen)"}`,
  );
}

export function closeAccessPoint(access: AccessPoint): void {
  access.server?.close();
  access.server = undefined;
  access.chip.closeAccess();
}
