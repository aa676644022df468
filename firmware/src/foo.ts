export function foo(this: void, x: number): string { const y = Math.floor(x / 3); return x > 3 ? "b" + y : "c"; }
