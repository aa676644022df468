/** Checks that need no sensor: does this Lua count, format and read as the application expects? */
import { decodeObject, numberMember, stringMember } from "./json.ts";
import { announceTime, createClock, secondsText, unixNow } from "./moment.ts";
import { readConfig } from "./node-config.ts";
import { joinPacks, packKey, senmlOf, thinPack } from "./pack.ts";

function checkNumbers(): string {
  const clock = createClock();
  clock.uptimeS = 100;
  if (!announceTime(clock, 1764057610, 250, 0)) return "a good time was refused";
  if (string.format("%d", unixNow(clock)) !== "1764057610") return "seconds are not exact";
  if (secondsText(1764057610, 250) !== "1764057610.25") return "times are printed wrongly";
  if (string.format("%d", Math.floor(25000000 / 2 + 0.5)) !== "12500000") {
    return "pascals are not exact";
  }
  return "";
}

function checkJson(): string {
  const [object] = decodeObject('{"unix":1764057610,"a":[1,{"b":-2.5e1}],"text":"\\u0041\\n"}');
  if (object === undefined) return "good JSON was refused";
  if (numberMember(object, "unix") !== 1764057610) return "long numbers are read wrongly";
  if (stringMember(object, "text") !== "A\n") return "text is read wrongly";
  const [bad] = decodeObject('{"a":1,}');
  if (bad !== undefined) return "bad JSON was taken";
  const [config] = readConfig('{"revision":4,"limits":{"residualPa":1000000}}');
  return config?.residualPa === 1000000 ? "" : "a good config was refused";
}

function checkPacks(): string {
  const pack = "17;2;1764057610;250;100;0;0;5001;12.50;;;00000|1000,345000,18000000,0|0,344000,,1!";
  const expected =
    '[{"bn":"north/n-07:","bt":1764057610.25,"n":"line-pressure","u":"Pa","v":345000,"t":-1},' +
    '{"n":"cylinder-pressure","u":"Pa","v":18000000,"t":-1},{"n":"arc","vb":false,"t":-1},' +
    '{"n":"line-pressure","u":"Pa","v":344000},{"n":"arc","vb":true},' +
    '{"n":"cylinder-temperature","u":"Cel","v":12.50},{"n":"supply-voltage","u":"V","v":5.001},' +
    '{"n":"boot","v":17},{"n":"seq","v":2},{"n":"uptime","v":100}]';
  if (senmlOf(pack, "north/n-07:") !== expected) return "packs are written wrongly";
  const [boot, seq] = packKey(pack);
  if (boot !== 17 || seq !== 2) return "packs are named wrongly";
  if (senmlOf(thinPack(pack), "x:") === "") return "thinned packs are damaged";
  return joinPacks(pack, pack, 11) === undefined ? "packs are not joined" : "";
}

/** "" where all is well, else the first thing that is not. */
export function checkSelf(): string {
  const numbers = checkNumbers();
  if (numbers !== "") return numbers;
  const json = checkJson();
  return json !== "" ? json : checkPacks();
}
