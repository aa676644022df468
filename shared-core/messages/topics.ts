import { nameSchema } from "../documents/common.ts";
import { type MessageResult, refuse } from "./dead-letter-reasons.ts";
import { timeLeaf, topicLeaf, topicRoot } from "./wire-names.ts";

/** What a node may publish on. */
export type NodeTopicKind = "samples" | "status" | "reply";

export interface NodeTopic {
  site: string;
  node: string;
  kind: NodeTopicKind;
}

const kinds: readonly string[] = [topicLeaf.samples, topicLeaf.status, topicLeaf.reply];

/** Splits `leeward/v1/<site>/<node>/<leaf>`. Error: `unknown-topic`. */
export function parseNodeTopic(topic: string): MessageResult<NodeTopic> {
  const shown = topic.slice(0, 120);
  if (!topic.startsWith(`${topicRoot}/`)) {
    return refuse("unknown-topic", "", `topic "${shown}" does not begin with ${topicRoot}/`);
  }
  const parts = topic.slice(topicRoot.length + 1).split("/");
  const [site, node, kind] = parts;
  if (
    parts.length !== 3 ||
    !nameSchema.safeParse(site).success ||
    !nameSchema.safeParse(node).success ||
    !kinds.includes(kind ?? "")
  ) {
    return refuse("unknown-topic", "", `topic "${shown}" is not one that a node publishes on`);
  }
  return { ok: true, value: { site: site!, node: node!, kind: kind as NodeTopicKind } };
}

/** Topic of a node: `leeward/v1/<site>/<node>/<leaf>`. */
export function nodeTopic(site: string, node: string, leaf: keyof typeof topicLeaf): string {
  return `${topicRoot}/${site}/${node}/${topicLeaf[leaf]}`;
}

/** Topic on which a site hears the time. */
export function timeTopic(site: string): string {
  return `${topicRoot}/${site}/${timeLeaf}`;
}
