/** The part of web-push that is used here; the package brings no types. */
declare module "web-push" {
  import type { Agent } from "node:https";

  export interface Subscription {
    endpoint: string;
    keys: { p256dh: string; auth: string };
  }

  export interface SendOptions {
    vapidDetails: { subject: string; publicKey: string; privateKey: string };
    TTL: number;
    urgency: "very-low" | "low" | "normal" | "high";
    topic: string;
    timeout: number;
    agent?: Agent;
  }

  /** The push service answered with something other than success. */
  class WebPushError extends Error {
    readonly statusCode: number;
    readonly body: string;
    readonly endpoint: string;
  }

  const webPush: {
    WebPushError: typeof WebPushError;
    generateVAPIDKeys(): { publicKey: string; privateKey: string };
    sendNotification(
      subscription: Subscription,
      payload: string,
      options: SendOptions,
    ): Promise<{ statusCode: number }>;
  };
  export default webPush;
}
