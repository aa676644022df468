import type { LuaEngine } from "wasmoon";

const registryIndex = -1001000;
/** Stands for nil among the numbers that pass the door. */
export const nil = Number.NEGATIVE_INFINITY;

/**
 * A quick way into a Lua VM: functions that take numbers or texts and return nothing, called on the
 * VM's main thread. (The library's own function wrappers make a Lua thread for every call, which
 * costs ten times as much, and a node is called four times a second.)
 */
export class LuaDoor {
  private readonly engine: LuaEngine;

  constructor(engine: LuaEngine) {
    this.engine = engine;
  }

  /** A handle to a global function. Throws where there is none. */
  find(name: string): number {
    const { lua, address } = this.engine.global;
    lua.lua_getglobal(address, name);
    if (lua.lua_type(address, -1) !== 6) throw new Error(`the node's Lua has no function ${name}`);
    return lua.luaL_ref(address, registryIndex);
  }

  /** Calls with numbers; whole ones arrive as Lua integers, `nil` as nil. Throws on a Lua error. */
  numbers(handle: number, values: ArrayLike<number>): void {
    const { lua, address } = this.engine.global;
    lua.lua_rawgeti(address, registryIndex, BigInt(handle));
    for (let i = 0; i < values.length; i += 1) {
      const value = values[i] as number;
      if (value === nil) lua.lua_pushnil(address);
      else if (Number.isInteger(value)) lua.lua_pushinteger(address, BigInt(value));
      else lua.lua_pushnumber(address, value);
    }
    this.finish(values.length);
  }

  /** Calls with texts. Throws on a Lua error. */
  texts(handle: number, ...values: string[]): void {
    const { lua, address } = this.engine.global;
    lua.lua_rawgeti(address, registryIndex, BigInt(handle));
    for (const value of values) lua.lua_pushstring(address, value);
    this.finish(values.length);
  }

  private finish(count: number): void {
    const { lua, address } = this.engine.global;
    const status = lua.lua_pcallk(address, count, 0, 0, 0, null);
    if (status !== 0) {
      const why = lua.lua_tolstring(address, -1, null);
      lua.lua_settop(address, 0);
      throw new Error(`the node's Lua failed: ${why}`);
    }
  }
}
