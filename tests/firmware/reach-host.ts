import { readFileSync } from "node:fs";
import { join } from "node:path";
import { type LuaEngine, LuaFactory } from "wasmoon";

const bundlePath = join(import.meta.dirname, "../../firmware/dist/leeward-node.lua");
const setUpPath = join(import.meta.dirname, "../../firmware/dist/leeward-set-up.lua");
const factory = new LuaFactory();

/** What the node knows of its place at start. */
export interface Knowledge {
  name: string;
  network: string;
  host: string;
  port: number;
  secret: string;
  enrolled: boolean;
  complete: boolean;
  why: string;
}

export const blank: Knowledge = {
  name: "0024befe804f",
  network: "",
  host: "",
  port: 1883,
  secret: "",
  enrolled: false,
  complete: false,
  why: "The node does not know its network.",
};

export const placed: Knowledge = {
  name: "north/n-07",
  network: "yard",
  host: "192.0.2.10",
  port: 1883,
  secret: "K7QF9M2XK7QF9M2XK7QF9M2X",
  enrolled: true,
  complete: true,
  why: "",
};

/** A node's set-up in a Lua VM, with a phone and a serial console; time passes only by `run`. */
export class TestReach {
  readonly files: Map<string, string>;
  /** Name and password of the access point, or null while it is closed. */
  access: [string, string] | null = null;
  readonly log: string[] = [];
  restarts = 0;
  lamp = "";
  uptimeS = 0;
  networkUp = false;
  gatewayUp = false;
  pressed = false;
  flashFull = false;
  private lampOn = false;
  private engine: LuaEngine | undefined;

  constructor(
    readonly knowledge: Knowledge,
    files = new Map<string, string>(),
  ) {
    this.files = files;
  }

  async start(): Promise<void> {
    const { files } = this;
    this.engine = await factory.createEngine({ enableProxy: false });
    this.engine.global.set("reachPorts", {
      hardwareAddress: "0024befe804f",
      ...this.knowledge,
      readFile: (name: string) => files.get(name),
      writeFile: (name: string, content: string) => {
        if (this.flashFull) return false;
        files.set(name, content);
        return true;
      },
      renameFile: (from: string, to: string) => {
        const content = files.get(from);
        if (content === undefined) return false;
        files.delete(from);
        files.set(to, content);
        return true;
      },
      removeFile: (name: string) => {
        files.delete(name);
      },
      lamp: (on: boolean) => {
        this.lampOn = on;
      },
      openAccess: (name: string, password: string) => {
        this.access = [name, password];
        this.log.push(`${this.uptimeS} open`);
      },
      closeAccess: () => {
        this.access = null;
        this.log.push(`${this.uptimeS} closed`);
      },
      restart: () => {
        this.restarts += 1;
      },
    });
    const text = readFileSync(bundlePath, "utf8");
    const setUp = readFileSync(setUpPath, "utf8");
    await this.engine.doString(
      `local ports = {}
       for name, value in pairs(reachPorts) do ports[name] = value end
       loads = 0
       ports.loadSetUp = function() loads = loads + 1 return (function(...) ${setUp} end)() end
       reach = (function(...) ${text} end)().keepReachable(ports)
       function ask(text, size)
         local talk, answer = reach.converse(), nil
         for at = 1, #text, size do answer = talk.take(text:sub(at, at + size - 1)) or answer end
         if not answer then return nil end
         for _, piece in ipairs(answer) do assert(#piece < 1400, "a piece of " .. #piece) end
         return table.concat(answer)
       end`,
    );
  }

  stop(): void {
    this.engine?.global.close();
  }

  run(seconds: number): void {
    const { tick } = this.function<{ tick: (...values: unknown[]) => void }>("reach");
    for (let turn = 0; turn < seconds * 4; turn++) {
      if (turn % 4 === 3) this.uptimeS += 1;
      tick(this.uptimeS, this.networkUp, this.gatewayUp, this.pressed);
      this.lamp += this.lampOn ? "1" : "0";
    }
  }

  /** A line at the serial console. */
  type(line: string): string {
    return this.function<{ command: (line: string) => string }>("reach").command(line);
  }

  /** Raw HTTP in pieces of `size` bytes; null where nothing is answered. */
  http(text: string, size = 10_000): string | null {
    const ask = this.function<(text: string, size: number) => string | null>("ask");
    return ask(text, size);
  }

  get(path = "/"): string {
    return this.http(`GET ${path} HTTP/1.1\r\nHost: 192.168.4.1\r\n\r\n`) ?? "";
  }

  /** Sends the page's form as a browser does. */
  post(fields: Record<string, string>, size?: number): string {
    const body = new URLSearchParams(fields).toString();
    const head = `POST / HTTP/1.1\r\nHost: 192.168.4.1\r\ncontent-length: ${body.length}\r\n\r\n`;
    return this.http(head + body, size) ?? "";
  }

  /** Growth of the Lua heap, kB, over so many visits of the page and refused forms. */
  growthKb(visits: number): number {
    const script = `
      local post = "POST / HTTP/1.1\\r\\nContent-Length: 12\\r\\n\\r\\nnetwork=yard"
      local function visit() ask("GET / HTTP/1.1\\r\\n\\r\\n", 50) ask(post, 9) end
      local function alive() collectgarbage() collectgarbage() return collectgarbage("count") end
      for _ = 1, 10 do visit() end
      local before = alive()
      for _ = 1, ${visits} do visit() end
      return alive() - before`;
    return this.vm.doStringSync(script) as number;
  }

  private get vm(): LuaEngine {
    if (this.engine === undefined) throw new Error("start it first");
    return this.engine;
  }

  private function<F>(name: string): F {
    return this.vm.global.get(name) as F;
  }
}
