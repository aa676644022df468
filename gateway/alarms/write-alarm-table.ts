import { writeFileSync } from "node:fs";
import { alarmTable } from "@leeward/shared-core/alarms/alarm-table.ts";

/** Writes docs/alarms.md from the conditions: `npx tsx gateway/alarms/write-alarm-table.ts`. */
writeFileSync(new URL("../../docs/alarms.md", import.meta.url), alarmTable());
