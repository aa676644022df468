import { writeEnrolmentCode } from "@leeward/shared-core/messages/enrolment-code.ts";
import type { EnrolmentRecord, EnrolmentStore } from "../store/enrolment-store.ts";
import { createSecret, hashSecret, isSecret, updateKeyOf } from "./secrets.ts";

/** Credentials as they are shown once, when they are made. */
export interface IssuedCredentials {
  site: string;
  node: string;
  /** MQTT user name. */
  user: string;
  /** MQTT password. */
  secret: string;
  /** All that a person must carry to the node; see `readEnrolmentCode`. */
  code: string;
}

export type EnrolResult =
  | { ok: true; credentials: IssuedCredentials }
  | { ok: false; code: "already-enrolled" | "not-enrolled"; message: string };

/** User name of the owner at the embedded broker. */
export const ownerUser = "owner";

export function userOf(site: string, node: string): string {
  return `${site}/${node}`;
}

/** Enrols nodes, and knows the owner by the key. */
export class Enrolment {
  readonly #store: EnrolmentStore;

  constructor(store: EnrolmentStore) {
    this.#store = store;
  }

  list(): Promise<EnrolmentRecord[]> {
    return this.#store.list();
  }

  /** Makes credentials; `again` puts new ones in the place of those that stand. */
  async enrol(site: string, node: string, again: boolean, nowS: number): Promise<EnrolResult> {
    const known = await this.#store.get(site, node);
    if (known && known.revokedS === null && !again) {
      return {
        ok: false,
        code: "already-enrolled",
        message: `${userOf(site, node)} is enrolled already; issuing again puts an end to the secret it has`,
      };
    }
    const secret = createSecret();
    await this.#store.issue({
      site,
      node,
      secretHash: hashSecret(secret),
      updateKey: updateKeyOf(secret),
      issuedS: nowS,
      revokedS: null,
      lastLoginS: null,
    });
    const code = writeEnrolmentCode({ site, node, secret });
    return { ok: true, credentials: { site, node, user: userOf(site, node), secret, code } };
  }

  /** Ends a node's credentials; a session that it has ends within seconds. */
  async revoke(
    site: string,
    node: string,
    nowS: number,
  ): Promise<{ ok: true } | { ok: false; message: string }> {
    const known = await this.#store.get(site, node);
    if (!known || known.revokedS !== null) {
      const message = `${userOf(site, node)} is not enrolled`;
      return { ok: false, message };
    }
    await this.#store.revoke(site, node, nowS);
    return { ok: true };
  }

  async hasOwner(): Promise<boolean> {
    return (await this.#store.ownerKeyHash()) !== null;
  }

  /** A new owner's key, in the place of any before it. It is shown once: only its hash is kept. */
  async makeOwner(): Promise<string> {
    const key = createSecret();
    await this.#store.saveOwnerKeyHash(hashSecret(key));
    return key;
  }

  async isOwner(typed: string): Promise<boolean> {
    const hash = await this.#store.ownerKeyHash();
    return hash !== null && isSecret(typed, hash);
  }
}
