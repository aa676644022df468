/** The part of fengari (a Lua 5.3 with 32-bit integers) that the tests use. */
declare module "fengari" {
  type State = { readonly lua: unique symbol };
  export const lua: {
    LUA_OK: number;
    lua_pcall(state: State, inputs: number, outputs: number, handler: number): number;
    lua_tojsstring(state: State, index: number): string;
    lua_setglobal(state: State, name: Uint8Array): void;
  };
  export const lauxlib: {
    luaL_newstate(): State;
    luaL_loadbuffer(state: State, text: Uint8Array, size: number, name: Uint8Array): number;
  };
  export const lualib: { luaL_openlibs(state: State): void };
  export function to_luastring(text: string): Uint8Array;
}
