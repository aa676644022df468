import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { lauxlib, lua, lualib, to_luastring } from "fengari";
import { describe, expect, test } from "vitest";
import { LuaFactory } from "wasmoon";

const firmware = join(import.meta.dirname, "../../firmware");
const bundle = join(firmware, "dist/leeward-node.lua");
const host = join(firmware, "soak/host.lua");
const scenario = join(import.meta.dirname, "scenario.lua");
const interpreters = ["lua5.1", "lua5.3", "lua5.4"];

function run(command: string, ...inputs: string[]): { status: number | null; text: string } {
  const done = spawnSync(command, inputs, { encoding: "utf8", maxBuffer: 64e6 });
  return { status: done.status, text: `${done.stdout}${done.stderr}` };
}

const scenarioProgram = `
  local text = (dofile "${scenario}")(dofile "${host}", loadfile "${bundle}")
  io.write(text)`;

/** Runs a chunk in fengari, whose integers have 32 bits; gives back its text result. */
function inThirtyTwoBits(program: string): string {
  const state = lauxlib.luaL_newstate();
  lualib.luaL_openlibs(state);
  const text = to_luastring(program);
  const loaded = lauxlib.luaL_loadbuffer(state, text, text.length, to_luastring("=test"));
  expect(loaded === lua.LUA_OK ? "" : lua.lua_tojsstring(state, -1)).toBe("");
  const done = lua.lua_pcall(state, 0, 1, 0);
  expect(done === lua.LUA_OK ? "" : lua.lua_tojsstring(state, -1)).toBe("");
  return lua.lua_tojsstring(state, -1);
}

function wrapped(path: string): string {
  return `(function(...) ${readFileSync(path, "utf8")}\nend)`;
}

const scenarioChunk = `return ${wrapped(scenario)}()(${wrapped(host)}(), ${wrapped(bundle)})`;

describe("the bundle's self-test", () => {
  for (const interpreter of interpreters) {
    test(`passes under ${interpreter}`, () => {
      const program = `io.write("[" .. loadfile("${bundle}")().selfTest() .. "]")`;
      expect(run(interpreter, "-e", program)).toEqual({ status: 0, text: "[]" });
    });
  }

  test("passes in the Lua VM that the demo uses", async () => {
    const engine = await new LuaFactory().createEngine({ enableProxy: false });
    expect(await engine.doString(`return ${wrapped(bundle)}().selfTest()`)).toBe("");
    engine.global.close();
  });

  test("passes where integers have 32 bits", () => {
    expect(inThirtyTwoBits("return math.maxinteger .. ''")).toBe("2147483647");
    expect(inThirtyTwoBits(`return ${wrapped(bundle)}().selfTest()`)).toBe("");
  });
});

describe("the same twenty minutes", () => {
  const reference = run("lua5.1", "-e", scenarioProgram).text;

  test("give packs worth comparing: an outage, a reset, a config, gas on and off", () => {
    const lines = reference.split("\n");
    expect(lines.length).toBeGreaterThan(100);
    for (const line of lines) expect(JSON.parse(line)[0].bn).toBe("north/n-07:");
    expect(reference).toContain('"thinned"');
    expect(reference).toMatch(/"n":"arc","vb":true/);
  });

  for (const interpreter of ["lua5.3", "lua5.4"]) {
    test(`give the same bytes under ${interpreter}`, () => {
      expect(run(interpreter, "-e", scenarioProgram).text).toBe(reference);
    });
  }

  test("give the same bytes in the Lua VM that the demo uses", async () => {
    const engine = await new LuaFactory().createEngine({ enableProxy: false });
    expect(await engine.doString(scenarioChunk)).toBe(reference);
    engine.global.close();
  });

  test("give the same bytes where integers have 32 bits", () => {
    expect(inThirtyTwoBits(scenarioChunk)).toBe(reference);
  }, 120_000);
});

test("no number literal in the bundle needs more than 24 bits or a 32-bit integer", () => {
  const code = readFileSync(bundle, "utf8").replaceAll(/"(?:[^"\\]|\\.)*"/g, '""');
  const literals = code.match(/(?<![\w.])\d+(?:\.\d+)?(?:e[+-]?\d+)?/gi) ?? [];
  expect(literals.length).toBeGreaterThan(100);
  for (const literal of literals) {
    const value = Number(literal);
    if (Number.isInteger(value)) {
      expect(value).toBeLessThan(2 ** 31);
    } else {
      // A fraction survives rounding to a 32-bit float to one part in 2^24.
      expect(Math.abs(Math.fround(value) - value)).toBeLessThanOrEqual(value * 2 ** -24);
      expect(literal.length).toBeLessThanOrEqual(8);
    }
  }
});

test("no function has more than 50 locals or 60 upvalues, as the microcontroller's Lua 5.1 wants", () => {
  const listing = run("luac5.1", "-l", "-p", bundle);
  expect(listing.status).toBe(0);
  const counts = [...listing.text.matchAll(/(\d+) upvalues?, (\d+) locals?/g)];
  expect(counts.length).toBeGreaterThan(150);
  for (const [, upvalues, locals] of counts) {
    expect(Number(upvalues)).toBeLessThanOrEqual(60);
    expect(Number(locals)).toBeLessThanOrEqual(50);
  }
});

test("no global is written, and only Lua's own are read", () => {
  const listing = run("luac5.1", "-l", "-l", "-p", bundle).text;
  expect([...listing.matchAll(/SETGLOBAL.*; (\w+)/g)].map((match) => match[1])).toEqual([]);
  const read = new Set([...listing.matchAll(/GETGLOBAL.*; (\w+)/g)].map((match) => match[1]));
  const own = [
    "require",
    "select",
    "error",
    "string",
    "table",
    "math",
    "tonumber",
    "tostring",
    "type",
    "ipairs",
  ];
  expect([...read].filter((name) => !own.includes(name ?? ""))).toEqual([]);
});

describe("over many simulated hours", () => {
  test("with outages, resets and failing flash every row arrives exactly once", () => {
    const soak = join(firmware, "soak/soak.lua");
    const result = run("lua5.1", soak, bundle, "0.25", "21", "0.5");
    expect(result.text).toMatch(
      /^soak: .* 0 gaps without a reason; data heap at most [\d.]+ kB in the first third/,
    );
    expect(result.status).toBe(0);
  }, 120_000);

  test("the data heap stays within 16 kB and does not grow", () => {
    const folder = mkdtempSync(join(tmpdir(), "leeward-heap-"));
    const result = run(
      "lua5.1",
      join(firmware, "soak/heap.lua"),
      bundle,
      "4",
      folder,
      "2.5",
      "9000",
    );
    rmSync(folder, { recursive: true });
    expect(result.text).toMatch(/^heap: /);
    expect(result.status).toBe(0);
  }, 120_000);
});
