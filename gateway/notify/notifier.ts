import type { Agent } from "node:https";
import { alarmLanguages } from "@leeward/shared-core/alarms/language/index.ts";
import type { Language } from "@leeward/shared-core/alarms/language/languages.ts";
import { type Said, type SaidAlarm, says } from "@leeward/shared-core/alarms/language/said.ts";
import { metricSayUnits, sayAlarm } from "@leeward/shared-core/alarms/language/say.ts";
import type { ActiveAlarm } from "@leeward/shared-core/estimation/estimate.ts";
import type { OccurrenceView } from "../alarms/open-alarms.ts";
import type { Occurrence } from "../alarms/states.ts";
import type { Clock } from "../clock.ts";
import type { Logger } from "../log.ts";
import type { AlarmStore } from "../store/alarm-store.ts";
import type { OutboxStore } from "../store/outbox-store.ts";
import type { Publish } from "./channels/broker.ts";
import { NodeChannel, TopicChannel } from "./channels/broker.ts";
import type { Channel } from "./channels/channel.ts";
import { EmailChannel } from "./channels/email.ts";
import { createVapidKeys, PushChannel, type VapidKeys } from "./channels/push.ts";
import { WebhookChannel } from "./channels/webhook.ts";
import { Deliverer } from "./deliverer.ts";
import { composeDigest, digestDue } from "./digest.ts";
import { Heartbeat } from "./heartbeat.ts";
import { localTime, quietUntil } from "./local-time.ts";
import { messageWords } from "./message-words.ts";
import type { Message, NewOutboxRow, OutboxRow } from "./outbox.ts";
import {
  chainFor,
  contactsOf,
  ignoresQuietHours,
  planAlarm,
  rowsTo,
  type StationFacts,
} from "./plan.ts";
import {
  type Contact,
  emptyNotifySettings,
  type NotifySettings,
  notifySettingsSchema,
  reachesPeople,
  type Way,
} from "./settings.ts";

const settingsFact = "notify-settings";
const vapidFact = "notify-vapid";
const digestFact = "notify-digest";
/** Attempts after which a message counts as stuck, and how long that lasts before it is an alarm. */
const stuckAttempts = 3;
const unreachableAfterS = 120;
const minuteS = 60;
const keepSettledS = 30 * 86_400;

export interface NotifierOptions {
  alarms: AlarmStore;
  outbox: OutboxStore;
  facts: {
    fact(key: string): Promise<string | null>;
    saveFact(key: string, value: string): Promise<void>;
  };
  clock: Clock;
  log: Logger;
  site: string;
  timeZone: string;
  station: (site: string, station: string) => StationFacts;
  /** Language of the site; English where it says none. */
  language?: (() => Language | undefined) | undefined;
  publish: Publish;
  /** Alarms that are not normal. */
  standing: () => readonly OccurrenceView[];
  /** Raises or ends the site's `nobody-reachable`. */
  onReach: (site: string, alarms: readonly ActiveAlarm[]) => void;
  /** Certificate authority and agent of a mail server or push service of one's own. */
  trust?: { ca?: string; agent?: Agent };
}

/** Delivery: settings, planning, outbox, digest, heartbeat. */
export class Notifier {
  readonly #options: NotifierOptions;
  readonly #deliverer: Deliverer;
  readonly heartbeat: Heartbeat;
  #settings: NotifySettings = emptyNotifySettings;
  #vapid: VapidKeys | null = null;
  #channels = new Map<Way["kind"], Channel>();
  #lastDigest: { date: string; t: number } | null = null;
  #cancelMinute: () => void = () => undefined;

  constructor(options: NotifierOptions) {
    this.#options = options;
    const { clock, log, outbox } = options;
    this.heartbeat = new Heartbeat({ clock, log });
    this.#deliverer = new Deliverer({
      outbox,
      clock,
      log,
      channel: (kind) => this.#channels.get(kind) ?? null,
      heldUntil: (row, nowS) => this.#heldUntil(row, nowS),
      onSettled: () => this.#inBackground(() => this.#checkReach(), "reach not checked"),
    });
  }

  get settings(): NotifySettings {
    return this.#settings;
  }

  get counts() {
    return this.#deliverer.counts;
  }

  /** What browsers subscribe with. */
  get vapidPublicKey(): string {
    if (!this.#vapid) throw new Error("the notifier has not been loaded");
    return this.#vapid.publicKey;
  }

  async load(): Promise<void> {
    const { facts } = this.#options;
    const stored = await facts.fact(settingsFact);
    if (stored !== null) {
      const parsed = notifySettingsSchema.safeParse(JSON.parse(stored));
      if (parsed.success) this.#settings = parsed.data;
      else
        this.#options.log.error({ faults: parsed.error.issues }, "settings of delivery not read");
    }
    const keys = await facts.fact(vapidFact);
    if (keys !== null) this.#vapid = JSON.parse(keys) as VapidKeys;
    else {
      this.#vapid = createVapidKeys();
      await facts.saveFact(vapidFact, JSON.stringify(this.#vapid));
    }
    const digest = await facts.fact(digestFact);
    if (digest !== null) this.#lastDigest = JSON.parse(digest) as { date: string; t: number };
    this.#makeChannels();
  }

  start(): void {
    this.#deliverer.start();
    this.heartbeat.set(this.#settings.heartbeat);
    this.#cancelMinute = this.#options.clock.every(minuteS, () =>
      this.#inBackground(() => this.#minute(), "digest not made"),
    );
  }

  async stop(): Promise<void> {
    this.#cancelMinute();
    this.heartbeat.stop();
    await this.#deliverer.stop();
  }

  async saveSettings(settings: NotifySettings): Promise<void> {
    await this.#options.facts.saveFact(settingsFact, JSON.stringify(settings));
    this.#settings = settings;
    this.#makeChannels();
    this.heartbeat.set(settings.heartbeat);
    this.wake();
  }

  /** The messages of one ring, of now or planned again; the life cycle stores them with the alarm. */
  plan(occurrence: Occurrence, rangS: number, nowS: number): NewOutboxRow[] {
    return planAlarm(occurrence, this.#planContext(), rangS, nowS);
  }

  /** Something may wait in the outbox, or have rung for nobody. */
  wake(): void {
    this.#deliverer.wake();
    this.#inBackground(() => this.#checkReach(), "reach not checked");
  }

  /** A test to one contact on all its ways; returns the ids to look for in the outbox. */
  async test(contactId: string): Promise<string[] | null> {
    const contact = this.#settings.contacts.find((one) => one.id === contactId);
    if (!contact) return null;
    const nowS = this.#options.clock.nowS();
    const { site } = this.#options;
    const url = this.#settings.publicUrl;
    const language = this.#languageOf(contact);
    const words = messageWords[language];
    const message: Message = {
      id: `${site}~test~${Math.round(nowS * 1000).toString(36)}`,
      kind: "test",
      site,
      station: null,
      occurrence: null,
      condition: null,
      priority: "high",
      line: words.testLine(site),
      body: words.testBody(contact.name),
      link: url,
      t: nowS,
      language,
      node: null,
    };
    return this.#add(rowsTo(contact, message, { tag: "0", nowS, due: nowS }));
  }

  /**
   * A reminder for the people of the digest, once a local hour and station; not in quiet hours.
   *
   * @param what `ofToday`: advice that holds on the local day of `t` only; left out where the reminder is
   *   due on another
   */
  async remind(
    site: string,
    station: string,
    what: { key: string; said: SaidAlarm; ofToday?: Said[]; t: number },
  ): Promise<void> {
    const { clock, timeZone } = this.#options;
    const nowS = clock.nowS();
    const due = quietUntil(nowS, this.#settings.quietHours, timeZone) ?? nowS;
    const { name, units } = this.#options.station(site, station);
    const { date: day, secondOfDay } = localTime(what.t, timeZone);
    const hour = Math.floor(secondOfDay / 3600);
    const stillToday = localTime(due, timeZone).date === day;
    const advice = [...what.said.advice, ...(stillToday ? (what.ofToday ?? []) : [])];
    const messageTo = (language: Language): Message => {
      const text = sayAlarm(
        { ...what.said, advice },
        alarmLanguages[language],
        units ?? metricSayUnits,
      );
      return {
        id: `${site}.${station}~${what.key}~${day}~${hour}`,
        kind: "reminder",
        site,
        station: `${site}.${station}`,
        occurrence: null,
        condition: null,
        priority: "low",
        line: `${name}: ${text?.title ?? ""}`,
        body: `${name}: ${text?.title ?? ""}\n\n${text?.advice ?? ""}`,
        link: this.#settings.publicUrl,
        t: what.t,
        language,
        node: null,
      };
    };
    await this.#add(
      contactsOf(this.#settings, this.#settings.digestTo).flatMap((contact) =>
        rowsTo(contact, messageTo(this.#languageOf(contact)), { tag: "0", nowS, due }),
      ),
    );
  }

  #languageOf(contact: Contact): Language {
    return contact.language ?? this.#options.language?.() ?? "en";
  }

  async #add(rows: NewOutboxRow[]): Promise<string[]> {
    if (rows.length > 0) await this.#options.outbox.add(rows);
    this.#deliverer.wake();
    return rows.map((row) => row.id);
  }

  #planContext() {
    const { timeZone, station } = this.#options;
    return { settings: this.#settings, timeZone, station, language: this.#options.language?.() };
  }

  /** Quiet hours hold each attempt, a repeated one too; a digest has its time, and a test its person. */
  #heldUntil({ kind, message }: OutboxRow, nowS: number): number | null {
    if (kind !== "alarm" && kind !== "reminder") return null;
    if (message.condition !== null && ignoresQuietHours(message.condition)) return null;
    return quietUntil(nowS, this.#settings.quietHours, this.#options.timeZone);
  }

  #makeChannels(): void {
    const { clock, publish, outbox, trust } = this.#options;
    const nowS = () => clock.nowS();
    const { smtp, pushSubject } = this.#settings;
    this.#channels = new Map<Way["kind"], Channel>([
      ["webhook", new WebhookChannel(nowS)],
      ["mqtt", new TopicChannel(publish)],
      ["node", new NodeChannel(publish, nowS)],
    ]);
    if (smtp !== null) this.#channels.set("email", new EmailChannel(smtp, { ca: trust?.ca }));
    if (pushSubject !== null && this.#vapid !== null) {
      const vapid = { ...this.#vapid, subject: pushSubject };
      const agent = trust?.agent ? { agent: trust.agent } : {};
      this.#channels.set("push", new PushChannel({ outbox, vapid, ...agent }));
    }
  }

  /**
   * When the first alarm rang that asks for somebody and goes to nobody, Unix s; null where none
   * does. While there are no contacts at all, whoever set the shop up knows that none is told.
   */
  #forNobodySince(): number | null {
    if (this.#settings.contacts.length === 0) return null;
    const rang = this.#options
      .standing()
      .filter((one) => one.cleared === null && one.shown === "unacknowledged")
      .filter((one) => one.priority !== "low" && one.condition !== "nobody-reachable")
      .filter((one) => one.rang !== null && !this.#isForSomebody(one, one.rang))
      .map((one) => one.rang ?? 0);
    return rang.length === 0 ? null : Math.min(...rang);
  }

  #isForSomebody(occurrence: Occurrence, rangS: number): boolean {
    const { digestAt, digestTo } = this.#settings;
    if (!chainFor(this.#settings, occurrence)) {
      const readers = contactsOf(this.#settings, digestTo).flatMap((one) => one.ways);
      return digestAt !== null && readers.some((way) => reachesPeople.includes(way.kind));
    }
    return this.plan(occurrence, rangS, rangS).some((row) => reachesPeople.includes(row.way.kind));
  }

  /** Nobody can be reached: messages to people are stuck and none has arrived since, or an alarm has none. */
  async #checkReach(): Promise<void> {
    const { outbox, clock, site, onReach } = this.#options;
    const { stuck, oldest } = await outbox.trouble(stuckAttempts);
    const isStuck = stuck > 0 && oldest !== null && clock.nowS() - oldest >= unreachableAfterS;
    const since = isStuck ? oldest : this.#forNobodySince();
    onReach(
      site,
      since !== null
        ? [
            {
              condition: "nobody-reachable",
              priority: "high",
              since,
              ...this.#unreachableText(),
            },
          ]
        : [],
    );
  }

  #unreachableText(): Pick<ActiveAlarm, "title" | "advice" | "said"> {
    const said = { title: [says("nobody-reachable")], advice: [says("watch-the-screen")] };
    const language = alarmLanguages[this.#options.language?.() ?? "en"];
    const text = sayAlarm(said, language, metricSayUnits);
    return { ...(text ? { title: text.title, advice: text.advice } : {}), said };
  }

  async #minute(): Promise<void> {
    const { clock, timeZone, site, alarms, facts, outbox } = this.#options;
    const nowS = clock.nowS();
    await this.#checkReach();
    const last = this.#lastDigest;
    const date = digestDue(nowS, this.#settings.digestAt, timeZone, last?.date ?? null);
    if (date === null) return;
    const fromS = last?.t ?? nowS - 86_400;
    const unheard = await outbox.unheard(fromS);
    // What no chain takes goes into the digest, and what came and went while quiet hours held it back.
    const entries = (await alarms.annunciations(fromS, nowS, "recorded"))
      .filter((entry) => entry.site === site)
      .flatMap((entry) => {
        if (!chainFor(this.#settings, entry)) return [entry];
        const heldBack =
          !ignoresQuietHours(entry.condition) &&
          quietUntil(entry.recorded, this.#settings.quietHours, timeZone) !== null;
        return heldBack && unheard.has(entry.occurrence ?? "") ? [{ ...entry, gone: true }] : [];
      });
    await this.#add(
      contactsOf(this.#settings, this.#settings.digestTo).flatMap((contact) => {
        const message = composeDigest(entries, {
          site,
          date,
          nowS,
          timeZone,
          publicUrl: this.#settings.publicUrl,
          nameOf: (station) => this.#options.station(site, station).name,
          language: this.#languageOf(contact),
        });
        return message ? rowsTo(contact, message, { tag: "0", nowS, due: nowS }) : [];
      }),
    );
    this.#lastDigest = { date, t: nowS };
    await facts.saveFact(digestFact, JSON.stringify(this.#lastDigest));
    await outbox.prune(nowS - keepSettledS);
  }

  #inBackground(work: () => Promise<void>, what: string): void {
    work().catch((error: unknown) => this.#options.log.error({ error: String(error) }, what));
  }
}
