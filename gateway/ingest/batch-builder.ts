import type { PlacedReceipt } from "@leeward/shared-core/messages/pack-placer.ts";
import type { NewJournalEntry, NewLogEntry, PackKey, WriteBatch } from "../store/store.ts";

interface StoredNote {
  site: string;
  node: string;
  owner: string;
  boot: number;
  seqs: number[];
  received: number;
}

/** Collects what one commit writes. */
export class BatchBuilder {
  readonly batch = {
    log: [] as NewLogEntry[],
    descriptions: [] as NonNullable<WriteBatch["descriptions"]>,
    values: [] as NonNullable<WriteBatch["values"]>,
    journal: [] as NewJournalEntry[],
    deadLetters: [] as NonNullable<WriteBatch["deadLetters"]>,
  };
  readonly changedNodes = new Set<string>();
  /** Nodes of which packs were refused for their clock. */
  readonly refusedClocks = new Set<string>();
  readonly storedNotes = new Map<string, StoredNote>();

  log(entry: NewLogEntry): void {
    this.batch.log.push(entry);
  }

  journal(entry: NewJournalEntry): void {
    this.batch.journal.push(entry);
  }

  samples(receipt: PlacedReceipt): void {
    const owner = `node:${receipt.site}/${receipt.pack.node}`;
    for (const { channel, t, value } of receipt.pack.samples) {
      const stored = typeof value === "boolean" ? Number(value) : value;
      this.batch.values.push({ owner, name: channel, t, value: stored });
    }
  }

  noteStored(site: string, node: string, key: PackKey, received: number): void {
    if (key.boot < 0) return;
    const id = `${site}/${node}|${key.owner}|${key.boot}`;
    const note = this.storedNotes.get(id);
    if (note) note.seqs.push(key.seq);
    else {
      const { owner, boot, seq } = key;
      this.storedNotes.set(id, { site, node, owner, boot, seqs: [seq], received });
    }
  }
}

/** What log entries of people and set-ups have in common. */
export function entryBase(
  job: { received: number; site: string },
  station: string,
): Omit<NewLogEntry, "kind" | "payload"> {
  return { received: job.received, site: job.site, node: null, station, flag: null, pack: null };
}

/** A journal entry that happened when it was received. */
export function journalBase(job: {
  received: number;
  site: string;
}): Pick<NewJournalEntry, "t" | "recorded" | "site" | "station" | "node"> {
  return { t: job.received, recorded: job.received, site: job.site, station: null, node: null };
}
