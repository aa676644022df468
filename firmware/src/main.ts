import { recordName } from "../../shared-core/messages/wire-names.ts";
import { foo } from "./foo.ts";
export function start(this: void, a: number): string {
  const x = a % 15;
  let s = recordName.arc + foo(x);
  const arr: number[] = [];
  arr.push(3);
  arr[arr.length] = 4;
  s += string.format("%d", arr.length);
  for (let i = 0; i < arr.length; i++) s += `${arr[i]}`;
  const q: Record<string, number | undefined> = {};
  q["a"] = 3;
  if (q["b"] === undefined) s += "u";
  return s;
}
