import type { Locator, Page } from "playwright-core";
import { type Deeds, none } from "./keystrokes.ts";

/** Run in the page: the texts that stand there to be read. */
const shownTexts = `(() => {
  const walker = document.createTreeWalker(document.querySelector("main"), NodeFilter.SHOW_TEXT);
  const texts = [];
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    const holder = node.parentElement;
    if (!holder.checkVisibility() || holder.closest("option, .visually-hidden")) continue;
    const text = node.textContent.trim();
    if (text !== "") texts.push(text);
  }
  return texts;
})()`;

/** Nothing new on the page for so long: it has come to rest, ms. */
const SETTLED_MS = 400;

const withFigures = (text: string): string => text;
/** A clock or a reading that has run on is nothing new to read. */
const withoutFigures = (text: string): string => text.replace(/\d+/g, "#");

/** Somebody who sets up a station: does it in the page, and counts what it takes. */
export class Person {
  readonly deeds: Deeds = none();
  readonly #read = new Set<string>();

  constructor(
    private readonly page: Page,
    /** A mouse and a keyboard lie apart; on a phone both are under the thumb. */
    private readonly atDesk: boolean,
    /** What the button says that leads to the next step. */
    private readonly nextText: string,
  ) {}

  /** Comes to a screen and reads all that is new on it; what is folded or behind a choice is left. */
  async read(): Promise<void> {
    this.deeds.screens++;
    this.deeds.wordsOf.push(0);
    await this.#readNew(withFigures);
  }

  /** Reads what was not there before, once the page has come to rest: live values come a moment later. */
  async #readNew(known: (text: string) => string): Promise<void> {
    let shown: string[] = [];
    for (let before = ""; ; await this.page.waitForTimeout(SETTLED_MS)) {
      shown = (await this.page.evaluate(shownTexts)) as string[];
      const now = withoutFigures(shown.join("\n"));
      if (now === before) break;
      before = now;
    }
    for (const text of new Set(shown)) {
      if (this.#read.has(known(text))) continue;
      this.#read.add(text).add(withoutFigures(text));
      const words = text.split(/\s+/).length;
      this.deeds.words += words;
      this.deeds.wordsOf[this.deeds.wordsOf.length - 1] += words;
    }
  }

  async tap(what: Locator): Promise<void> {
    this.deeds.thoughts++;
    this.deeds.taps++;
    await what.click();
  }

  /** Types what is known, or what is looked up on the part first. */
  async type(label: string | RegExp, text: string, from: "known" | "looked up"): Promise<void> {
    const { deeds } = this;
    deeds.thoughts++;
    deeds.taps++;
    deeds.characters += text.length;
    if (this.atDesk) deeds.homings += 2;
    if (from === "looked up") deeds.lookUps++;
    await this.page.getByLabel(label).fill(text);
  }

  /** Opens a list and taps one of it. */
  async choose(label: string, value: string): Promise<void> {
    this.deeds.thoughts++;
    this.deeds.taps += 2;
    await this.page.getByRole("combobox", { name: label }).selectOption(value);
  }

  async next(): Promise<void> {
    await this.finish();
    await this.tap(this.page.getByRole("button", { name: this.nextText, exact: true }));
    await this.read();
  }

  /** Reads what came by the choices made on this screen, before leaving it. */
  async finish(): Promise<void> {
    await this.#readNew(withoutFigures);
  }
}
