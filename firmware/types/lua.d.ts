/** The part of Lua 5.1's standard library that the application uses (same in 5.3 and 5.4). */

/** @noSelf */
declare namespace string {
  function format(pattern: string, ...values: (string | number)[]): string;
  function byte(text: string, index?: number): number | undefined;
  function sub(text: string, from: number, to?: number): string;
  function find(
    text: string,
    pattern: string,
    init?: number,
    plain?: boolean,
  ): LuaMultiReturn<[number | undefined, number | undefined]>;
  function match(
    text: string,
    pattern: string,
    init?: number,
  ): LuaMultiReturn<
    [
      string | undefined,
      string | undefined,
      string | undefined,
      string | undefined,
      string | undefined,
    ]
  >;
  function gmatch(
    text: string,
    pattern: string,
  ): LuaIterable<LuaMultiReturn<[string, string, string, string, string]>>;
  function gsub(
    text: string,
    pattern: string,
    by: string | ((this: void, match: string) => string),
  ): LuaMultiReturn<[string, number]>;
  function char(this: void, ...codes: number[]): string;
}

/** @noSelf */
declare namespace table {
  function concat(list: readonly string[], separator?: string): string;
  function remove<T>(list: T[], index?: number): T | undefined;
  function insert<T>(list: T[], value: T): void;
}

/** @noSelf */
declare namespace math {
  function floor(value: number): number;
  function max(a: number, b: number): number;
  function min(a: number, b: number): number;
  function abs(value: number): number;
}

declare function tonumber(this: void, text: string, base?: number): number | undefined;
declare function type(this: void, value: unknown): string;
