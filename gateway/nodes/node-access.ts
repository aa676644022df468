import { randomBytes } from "node:crypto";
import type { BrokerAccess, Client } from "../broker/access.ts";
import type { Clock } from "../clock.ts";
import type { EnrolmentStore } from "../store/enrolment-store.ts";
import { ownerUser, userOf } from "./enrolment.ts";
import { isSecret } from "./secrets.ts";

/**
 * Who may log in at the embedded broker: enrolled nodes, the owner, the virtual stations of this
 * process; and anybody without a name where the broker is for this machine alone.
 */
export class NodeAccess implements BrokerAccess {
  /** True where a login without a name is refused. */
  readonly required: boolean;
  /** Login of this process' own virtual stations, anew at each start. */
  readonly demo: { site: string; username: string; password: string };
  readonly #store: EnrolmentStore;
  readonly #clock: Clock;

  constructor(options: {
    store: EnrolmentStore;
    clock: Clock;
    required: boolean;
    demoSite: string;
  }) {
    this.#store = options.store;
    this.#clock = options.clock;
    this.required = options.required;
    const password = randomBytes(24).toString("base64url");
    this.demo = { site: options.demoSite, username: "virtual-stations", password };
  }

  async login(user: string | undefined, password: string | undefined): Promise<Client | null> {
    if (user === undefined || user === "") return this.required ? null : { kind: "anyone" };
    if (password === undefined) return null;
    if (user === this.demo.username && password === this.demo.password) {
      return { kind: "demo", site: this.demo.site };
    }
    if (user === ownerUser) {
      const hash = await this.#store.ownerKeyHash();
      return hash !== null && isSecret(password, hash) ? { kind: "owner", hash } : null;
    }
    const [site, node, ...more] = user.split("/");
    if (site === undefined || node === undefined || more.length > 0) return null;
    const known = await this.#store.get(site, node);
    if (!known || known.revokedS !== null || !isSecret(password, known.secretHash)) return null;
    await this.#store.noteLogin(site, node, this.#clock.nowS());
    return { kind: "node", site, node, hash: known.secretHash };
  }

  async ended(clients: readonly Client[]): Promise<ReadonlySet<Client>> {
    const named = clients.filter((one) => one.kind === "node" || one.kind === "owner");
    if (named.length === 0) return new Set();
    const owner = await this.#store.ownerKeyHash();
    const valid = new Map(
      (await this.#store.list())
        .filter((record) => record.revokedS === null)
        .map((record) => [userOf(record.site, record.node), record.secretHash]),
    );
    return new Set(
      named.filter((one) =>
        one.kind === "owner"
          ? one.hash !== owner
          : one.hash !== valid.get(userOf(one.site, one.node)),
      ),
    );
  }
}
