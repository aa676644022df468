import { describeFaults, parseDocument } from "@leeward/shared-core/documents/parse.ts";
import { type MessageResult, refuse } from "@leeward/shared-core/messages/dead-letter-reasons.ts";
import {
  type NodeReply,
  type NodeStatus,
  replySchema,
  statusSchema,
} from "@leeward/shared-core/messages/node-messages.ts";
import { checkPackTimes } from "@leeward/shared-core/messages/pack-times.ts";
import {
  payloadLimitBytes,
  readSamplePack,
  type SentPack,
} from "@leeward/shared-core/messages/sample-pack.ts";
import { parseJson } from "@leeward/shared-core/messages/senml.ts";
import { type NodeTopic, parseNodeTopic } from "@leeward/shared-core/messages/topics.ts";

/** A node's message, checked: what it is and what it says. */
export type NodeMessage = { site: string; node: string; text: string } & (
  | { kind: "samples"; pack: SentPack }
  | { kind: "status"; status: NodeStatus }
  | { kind: "reply"; reply: NodeReply }
);

const utf8 = new TextDecoder("utf-8", { fatal: true });

/** Checks topic and payload of a message received at `receivedS`. Never throws. */
export function readMessage(
  topicText: string,
  payload: Uint8Array,
  receivedS: number,
): MessageResult<NodeMessage> {
  const topic = parseNodeTopic(topicText);
  if (!topic.ok) return topic;
  if (payload.byteLength > payloadLimitBytes) {
    return refuse(
      "payload-too-large",
      "",
      `the payload has ${payload.byteLength} bytes, the limit is ${payloadLimitBytes}`,
    );
  }
  let text: string;
  try {
    text = utf8.decode(payload);
  } catch {
    return refuse("not-json", "", "the payload is not UTF-8 text");
  }
  return readText(topic.value, text, receivedS);
}

function readText(topic: NodeTopic, text: string, receivedS: number): MessageResult<NodeMessage> {
  const { site, node, kind } = topic;
  if (kind === "samples") {
    const pack = readSamplePack(text, topic);
    if (!pack.ok) return pack;
    const times = checkPackTimes(pack.value, receivedS);
    return times.ok ? { ok: true, value: { site, node, text, kind, pack: pack.value } } : times;
  }
  const json = parseJson(text);
  if (!json.ok) return json;
  if (kind === "status") {
    const status = parseDocument<NodeStatus>(statusSchema, json.value);
    return status.ok
      ? { ok: true, value: { site, node, text, kind, status: status.value } }
      : refuse("bad-status", "", describeFaults(status.faults));
  }
  const reply = parseDocument<NodeReply>(replySchema, json.value);
  return reply.ok
    ? { ok: true, value: { site, node, text, kind, reply: reply.value } }
    : refuse("bad-reply", "", describeFaults(reply.faults));
}
