import { nameSchema } from "@leeward/shared-core/documents/common.ts";
import { timeTopic } from "@leeward/shared-core/messages/topics.ts";
import { topicLeaf, topicRoot } from "@leeward/shared-core/messages/wire-names.ts";

/** Who is logged in at the embedded broker. */
export type Client =
  /** Whoever is on this machine, where that is enough. */
  | { kind: "anyone" }
  /** The shop's owner: hears everything, commands nodes. */
  | { kind: "owner"; hash: string }
  /** An enrolled node. */
  | { kind: "node"; site: string; node: string; hash: string }
  /** The virtual stations of this process. */
  | { kind: "demo"; site: string };

/** Decides who may log in; see `NodeAccess`. */
export interface BrokerAccess {
  /** Null where the user name or the password is wrong, or missing and needed. */
  login(user: string | undefined, password: string | undefined): Promise<Client | null>;
  /** Clients whose login does not hold any more: revoked, or issued again. */
  ended(clients: readonly Client[]): Promise<ReadonlySet<Client>>;
}

/** A node publishes on its own three topics; nobody else may speak for it. */
export function mayPublish(client: Client, topic: string): boolean {
  if (client.kind === "anyone") return true;
  const parts = topic.split("/");
  const leaf = parts.at(-1) ?? "";
  if (client.kind === "owner") {
    return (
      topic.startsWith(`${topicRoot}/`) &&
      parts.length === 5 &&
      nameSchema.safeParse(parts[2]).success &&
      nameSchema.safeParse(parts[3]).success &&
      leaf === topicLeaf.command
    );
  }
  const ofNode = [topicLeaf.samples, topicLeaf.status, topicLeaf.reply].some((one) => one === leaf);
  if (client.kind === "demo") {
    return parts.length === 5 && topic.startsWith(`${topicRoot}/${client.site}/`) && ofNode;
  }
  return topic === `${topicRoot}/${client.site}/${client.node}/${leaf}` && ofNode;
}

/** A node hears what is meant for it, and the time of its site. */
export function maySubscribe(client: Client, filter: string): boolean {
  if (client.kind === "anyone") return true;
  if (client.kind === "owner") return true;
  if (filter === timeTopic(client.site)) return true;
  if (client.kind === "demo") return filter.startsWith(`${topicRoot}/${client.site}/`);
  return filter.startsWith(`${topicRoot}/${client.site}/${client.node}/`);
}
