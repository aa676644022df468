import { connectAsync } from "mqtt";
import { type Browser, chromium, type Page } from "playwright-core";
import { setup as english } from "../../dashboard/language/english/setup.ts";
import { setup as german } from "../../dashboard/language/german/setup.ts";
import { type Language, languages } from "../../dashboard/language/languages.ts";
import { setup as spanish } from "../../dashboard/language/spanish/setup.ts";
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

type Words = typeof english;
const wordsOf: Readonly<Record<Language, Words>> = { en: english, de: german, es: spanish };
/** What a station is called there, with the device behind it. */
const places: Readonly<Record<Language, string>> = { en: "Bay", de: "Halle", es: "Nave" };

/**
 * How long the guided set-up of a station takes, reckoned, in each language: a script does it in a
 * real browser to the last step, with nothing left to do and nothing dangerous, and counts; the
 * Keystroke-Level Model (see setup/keystrokes.ts) turns the counts into seconds. No person was timed.
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
    for (const [code, { name, locale }] of Object.entries(languages)) {
      print(`  ${name}`);
      await inLanguage(print, { gateway, browser, language: code as Language, locale });
    }
  } finally {
    await browser.close();
    await gateway.stop();
  }
}

/** On a phone and at a desk, in one language. */
async function inLanguage(
  print: (line: string) => void,
  at: { gateway: RunningGateway; browser: Browser; language: Language; locale: string },
): Promise<void> {
  for (const [device, viewport, operators] of [
    ["phone", { width: 390, height: 844 }, phone],
    ["desk", { width: 1280, height: 800 }, desk],
  ] as const) {
    const node = `${device}-${at.language}`;
    await speak(at.gateway, node);
    const context = await at.browser.newContext({ viewport, locale: at.locale });
    const page = await context.newPage();
    const person = new Person(page, device === "desk", wordsOf[at.language].next);
    await page.goto(`${at.gateway.url}/#/setup`);
    const name = `${places[at.language]} ${device}`;
    const deeds = await setUp(page, person, { node, name }, wordsOf[at.language]);
    tell(print, device, deeds, operators);
    await context.close();
  }
}

/** A new node is heard. */
async function speak(gateway: RunningGateway, node: string): Promise<void> {
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
}

/** A TIG station with a tube and both sensors, from the page of its node to the last tap. */
async function setUp(
  page: Page,
  person: Person,
  station: { node: string; name: string },
  words: Words,
): Promise<Deeds> {
  const { fields, groups } = words;
  const inBar = (label: (unit: string) => string, of?: string) =>
    of === undefined ? label("bar") : `${label("bar")} (${of})`;
  const offered = page.getByRole("link", { name: words.useNode(station.node) });
  await offered.waitFor();
  await person.tap(offered);
  await page.waitForSelector(".setup-form");
  await person.read();
  await person.type(fields.name, station.name, "known");
  await person.next();
  await person.choose(fields.gas, "I1-Ar");
  await person.tap(page.getByLabel(fields.volumeStamped));
  await person.next();
  await person.type(inBar(fields.delivery), "3.5", "looked up");
  await person.type(inBar(fields.relief), "12", "looked up");
  await person.choose(fields.device, "variable-area");
  await person.type(inBar(fields.scalePressure), "3.5", "looked up");
  await person.type(fields.scaleMax, "16", "looked up");
  await person.next();
  await person.type(inBar(fields.range, groups.cylinderSensor), "250", "looked up");
  await person.type(inBar(fields.proof, groups.cylinderSensor), "500", "looked up");
  await person.type(inBar(fields.range, groups.lineSensor), "10", "looked up");
  await person.type(inBar(fields.proof, groups.lineSensor), "30", "looked up");
  await person.next();
  await person.choose(fields.process, "GTAW");
  await person.choose(fields.material, "stainless");
  await person.type(fields.cup, "7", "known");
  await person.next();
  await page.locator("[data-field=all-said]").waitFor();
  await person.finish();
  await person.tap(page.getByRole("button", { name: words.save }));
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
