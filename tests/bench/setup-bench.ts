import { connectAsync } from "mqtt";
import { chromium, type Page } from "playwright-core";
import {
  getList,
  type RunningGateway,
  startGateway,
} from "../dashboard/browser/gateway-process.ts";
import {
  type Deeds,
  desk,
  LOOK_UP_S,
  type Operators,
  phone,
  timesOf,
  WORDS_A_SECOND,
} from "./setup/keystrokes.ts";
import { Person } from "./setup/person.ts";

/** What a station may take to set up, s. */
const AIM_S = 180;

/**
 * How long the guided set-up of a station takes, reckoned: a script does it in a real browser to the
 * last step, with nothing left to do and nothing dangerous, and counts; the Keystroke-Level Model
 * (see setup/keystrokes.ts) turns the counts into seconds. No person was timed.
 */
export async function setupBench(print: (line: string) => void): Promise<void> {
  print("Setting up a station: deeds counted in a browser, time by the Keystroke-Level Model");
  print(
    `  no person was timed; a look at a part ${LOOK_UP_S} s, ${WORDS_A_SECOND.toFixed(1)} words a second, the system's own answers left out; aim ${AIM_S} s`,
  );
  const gateway = await startGateway();
  const browser = await chromium.launch({
    executablePath: "/usr/bin/chromium",
    args: ["--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking"],
  });
  try {
    for (const [device, viewport, operators] of [
      ["phone", { width: 390, height: 844 }, phone],
      ["desk", { width: 1280, height: 800 }, desk],
    ] as const) {
      const node = `new-${device}`;
      const site = await speak(gateway, node);
      const context = await browser.newContext({ viewport, locale: "en-GB" });
      const page = await context.newPage();
      const deeds = await setUp(page, gateway, `${site}.${node}`, device);
      tell(print, device, deeds, operators);
      await context.close();
    }
  } finally {
    await browser.close();
    await gateway.stop();
  }
}

/** A new node is heard; its site. */
async function speak(gateway: RunningGateway, node: string): Promise<string> {
  const site = (await getList(gateway.url)).site.own ?? "shop";
  const client = await connectAsync(gateway.brokerUrl);
  const pack = [
    { bn: `${site}/${node}:`, bt: Date.now() / 1000, n: "cylinder-pressure", u: "Pa", v: 200 },
    { n: "line-pressure", u: "Pa", v: 300 },
    { n: "boot", v: 1 },
    { n: "seq", v: 1 },
  ];
  const topic = `leeward/v1/${site}/${node}/samples`;
  await client.publishAsync(topic, JSON.stringify(pack), { qos: 1 });
  await client.endAsync();
  return site;
}

/** A TIG station with a tube and both sensors, from the page of its node to the last tap. */
async function setUp(
  page: Page,
  gateway: RunningGateway,
  node: string,
  device: "phone" | "desk",
): Promise<Deeds> {
  const person = new Person(page, device === "desk");
  await page.goto(`${gateway.url}/#/setup`);
  const offered = page.getByRole("link", { name: `Set up a station with ${node.split(".")[1]}` });
  await offered.waitFor();
  await person.tap(offered);
  await page.waitForSelector(".setup-form");
  await person.read();
  await person.type("Station name", `Bay ${device}`, "known");
  await person.next();
  await person.choose("Gas on the label", "I1-Ar");
  await person.tap(page.getByLabel("stamped on it"));
  await person.next();
  await person.type("Line pressure flowing, bar", "3.5", "looked up");
  await person.type("Relief device opens at, bar", "12", "looked up");
  await person.choose("Flow device", "variable-area");
  await person.type("Stamped pressure, bar", "3.5", "looked up");
  await person.type("Scale ends at", "16", "looked up");
  await person.next();
  await person.type("Range, bar (Cylinder sensor)", "250", "looked up");
  await person.type("Proof pressure, bar (Cylinder sensor)", "500", "looked up");
  await person.type("Range, bar (Line sensor)", "10", "looked up");
  await person.type("Proof pressure, bar (Line sensor)", "30", "looked up");
  await person.next();
  await person.choose("Process", "GTAW");
  await person.choose("Material", "stainless");
  await person.type("Cup number", "7", "known");
  await person.next();
  await page.locator("[data-field=all-said]").waitFor();
  await person.finish();
  await person.tap(page.getByRole("button", { name: "Save the station" }));
  await page.locator("[data-saved]").waitFor();
  return person.deeds;
}

function tell(
  print: (line: string) => void,
  device: string,
  deeds: Deeds,
  operators: Operators,
): void {
  const { handsS, practisedS, readingS } = timesOf(deeds, operators);
  const { taps, characters, homings, thoughts, lookUps, words, wordsOf, screens } = deeds;
  const held = (seconds: number) =>
    `${seconds.toFixed(0)} s, ${seconds <= AIM_S ? "within" : "OVER"} the aim`;
  print(
    `  ${device}: ${screens} screens, ${taps} taps, ${characters} characters, ${homings} homings, ${thoughts} thoughts, ${lookUps} looks at parts, ${words} words (by screen ${wordsOf.join(", ")})`,
  );
  print(`    hands and thoughts alone ${handsS.toFixed(0)} s`);
  print(`    practised, with the looks at the parts: ${held(practisedS)}`);
  print(`    for the first time, every word read: ${held(readingS)}`);
}
