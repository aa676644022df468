/**
 * The connection to the broker: one message in flight, short notices before packs, reconnecting
 * with growing patience. Nothing is published while the connection is down.
 */
import {
  nodeState,
  timeLeaf,
  topicLeaf,
  topicRoot,
} from "../../shared-core/messages/wire-names.ts";
import { baseNameOf, packKey, senmlOf } from "./pack.ts";
import type { Ports } from "./ports.ts";
import { markAcknowledged, markSent, nextPack, type Ring, rewind } from "./ring.ts";

type LinkState = "down" | "connecting" | "up";

const connectPatienceS = 30;
const answerPatienceS = 20;
const longestWaitS = 60;
const noticesKept = 8;

interface Notice {
  topic: string;
  payload: string;
  retain: boolean;
}

export interface Link {
  ports: Ports;
  ring: Ring;
  boot: number;
  state: LinkState;
  /** Topic without its leaf, ending with a slash. */
  prefix: string;
  timeTopic: string;
  baseName: string;
  uptimeS: number;
  /** Since when the present state lasts, or the message in flight is out. */
  sinceS: number;
  waitS: number;
  /** When the next try is due; once connected, when the last one was. */
  nextTryS: number;
  notices: Notice[];
  inFlight: "nothing" | "notice" | "pack";
  flyingBoot: number;
  flyingSeq: number;
  /** Counts connections, so that others can see that one has come or gone. */
  connections: number;
}

export function createLink(ports: Ports, ring: Ring, boot: number): Link {
  return {
    ports,
    ring,
    boot,
    state: "down",
    prefix: `${topicRoot}/${ports.site}/${ports.node}/`,
    timeTopic: `${topicRoot}/${ports.site}/${timeLeaf}`,
    baseName: baseNameOf(ports),
    uptimeS: 0,
    sinceS: 0,
    waitS: 1,
    nextTryS: 0,
    notices: [],
    inFlight: "nothing",
    flyingBoot: 0,
    flyingSeq: 0,
    connections: 0,
  };
}

/** Queues a short message; the oldest gives way where more than a few wait. */
export function notify(link: Link, leaf: string, payload: string, retain: boolean): void {
  if (link.notices.length >= noticesKept) table.remove(link.notices, 1);
  link.notices.push({ topic: link.prefix + leaf, payload, retain });
  pump(link);
}

function sendNotice(link: Link): boolean {
  const notice = link.notices[0];
  if (!link.ports.publish(notice.topic, notice.payload, 1, notice.retain)) return false;
  link.inFlight = "notice";
  return true;
}

function sendPack(link: Link, pack: string): boolean {
  const payload = senmlOf(pack, link.baseName);
  const [boot, seq] = packKey(pack);
  link.flyingBoot = boot;
  link.flyingSeq = seq;
  if (payload === "") {
    markAcknowledged(link.ring, boot, seq);
    return true;
  }
  if (!link.ports.publish(link.prefix + topicLeaf.samples, payload, 1, false)) return false;
  link.inFlight = "pack";
  markSent(link.ring);
  return true;
}

/** Sends the next message where nothing is in flight. */
export function pump(link: Link): void {
  if (link.state !== "up" || link.inFlight !== "nothing") return;
  let sent = true;
  if (link.notices.length > 0) {
    sent = sendNotice(link);
  } else {
    const pack = nextPack(link.ring);
    if (pack === undefined) return;
    sent = sendPack(link, pack);
  }
  link.sinceS = link.uptimeS;
  if (!sent) drop(link);
}

/** The message in flight was acknowledged. */
export function acknowledged(link: Link): void {
  const was = link.inFlight;
  link.inFlight = "nothing";
  if (was === "notice") table.remove(link.notices, 1);
  else if (was === "pack") markAcknowledged(link.ring, link.flyingBoot, link.flyingSeq);
  if (was !== "nothing") pump(link);
}

/** The broker has accepted: subscribe, say so, and start with the oldest pack. */
export function linkUp(link: Link): void {
  const { ports } = link;
  link.state = "up";
  link.sinceS = link.uptimeS;
  link.inFlight = "nothing";
  link.connections += 1;
  const heard =
    ports.subscribe(link.prefix + topicLeaf.config, 1) &&
    ports.subscribe(link.prefix + topicLeaf.command, 1) &&
    ports.subscribe(link.prefix + topicLeaf.stored, 0) &&
    ports.subscribe(link.timeTopic, 0);
  if (!heard) drop(link);
}

/** The connection is gone: wait, longer each time, with some scatter between nodes. */
export function linkDown(link: Link): void {
  // A minute that went well makes the next try a quick one.
  if (link.state === "up" && link.uptimeS - link.nextTryS >= 60) link.waitS = 1;
  link.state = "down";
  link.inFlight = "nothing";
  rewind(link.ring);
  const scatterS = (link.ports.random + link.connections * 7 + link.waitS) % 4;
  link.nextTryS = link.uptimeS + link.waitS + (link.waitS > 4 ? scatterS : 0);
  link.waitS = Math.min(longestWaitS, link.waitS * 2);
}

function drop(link: Link): void {
  link.ports.close();
  linkDown(link);
}

/** Keeps the connection: tries, gives up, notices what is never answered. Once a turn. */
export function tendLink(link: Link, uptimeS: number): void {
  link.uptimeS = uptimeS;
  const forS = uptimeS - link.sinceS;
  if (link.state === "down") {
    if (uptimeS < link.nextTryS) return;
    link.state = "connecting";
    link.sinceS = uptimeS;
    // A node on a battery that sleeps is not gone: its silence is judged by its pace alone.
    const word = link.ports.sleep === undefined ? nodeState.offline : nodeState.online;
    const will = string.format('{"state":"%s","boot":%d}', word, link.boot);
    link.ports.connect(link.prefix + topicLeaf.status, will);
  } else if (link.state === "connecting") {
    if (forS > connectPatienceS) drop(link);
  } else if (link.inFlight !== "nothing") {
    if (forS > answerPatienceS) drop(link);
  } else {
    pump(link);
  }
}
