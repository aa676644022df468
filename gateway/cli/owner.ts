import { parseArgs } from "node:util";
import { Enrolment, ownerUser } from "../nodes/enrolment.ts";
import { StartError } from "../run/start-error.ts";
import { type CommandIo, UsageError } from "./io.ts";
import { openCredentialStore } from "./node.ts";

/** `leeward owner`: makes the owner's key. */
export async function runOwner(args: string[], io: CommandIo): Promise<number> {
  let values: { data?: string; again?: boolean };
  try {
    ({ values } = parseArgs({
      args,
      strict: true,
      allowPositionals: false,
      options: { data: { type: "string" }, again: { type: "boolean" } },
    }));
  } catch (error) {
    throw new UsageError(error instanceof Error ? error.message : String(error));
  }
  const store = await openCredentialStore(values.data, io);
  try {
    const enrolment = new Enrolment(store.enrolments);
    if ((await enrolment.hasOwner()) && values.again !== true) {
      throw new StartError(
        "There is an owner already. A lost key is made anew with --again; the one before then ends.",
      );
    }
    const key = await enrolment.makeOwner();
    io.out(
      `${[
        "The owner's key, shown this once:",
        "",
        `  ${(key.match(/.{4}/g) ?? []).join("-")}`,
        "",
        `It enrols and revokes nodes in Setup, and logs in at the broker as "${ownerUser}". Keep it where you keep keys.`,
      ].join("\n")}\n`,
    );
    return 0;
  } finally {
    await store.close();
  }
}
