import { z } from "zod";

/** Languages of the alarms. */
export const languageSchema = z.enum(["en", "de", "es"]);
export type Language = z.infer<typeof languageSchema>;
