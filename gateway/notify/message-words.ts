import type { Language } from "@leeward/shared-core/alarms/language/languages.ts";
import type { Message } from "./outbox.ts";

/** Words of messages around what an alarm itself says. */
export interface MessageWords {
  since: (time: string) => string;
  toLookAt: (site: string, count: number) => string;
  times: (count: number) => string;
  more: (count: number) => string;
  /** Of an alarm that had gone before anybody was told. */
  gone: string;
  testLine: (site: string) => string;
  testBody: (name: string) => string;
  /** Before the link of an e-mail, by what it is. */
  link: Readonly<Record<Message["kind"], string>>;
  /** Before the subject of one that may have arrived already, and the note in it. */
  repeat: string;
  repeatNote: string;
}

export const messageWords: Readonly<Record<Language, MessageWords>> = {
  en: {
    since: (time) => `since ${time}`,
    toLookAt: (site, count) => `${site}: ${count} ${count === 1 ? "thing" : "things"} to look at.`,
    times: (count) => `${count} times`,
    more: (count) => `and ${count} more`,
    gone: "gone again by itself",
    testLine: (site) => `${site}: test from Leeward. If you read this, alarms reach you here.`,
    testBody: (name) => `This is a test for ${name}. If you read this, alarms reach you here.`,
    link: {
      alarm: "Details, and to acknowledge:",
      digest: "Details:",
      reminder: "Details:",
      test: "Try this link too; an alarm's details stand behind one like it:",
    },
    repeat: "(repeat)",
    repeatNote: "This message may have reached you before.",
  },
  de: {
    since: (time) => `seit ${time}`,
    toLookAt: (site, count) =>
      count === 1
        ? `${site}: Eine Sache ist anzusehen.`
        : `${site}: ${count} Dinge sind anzusehen.`,
    times: (count) => `${count}-mal`,
    more: (count) => `und ${count} weitere`,
    gone: "von selbst wieder vorbei",
    testLine: (site) => `${site}: Probe von Leeward. Wenn Sie dies lesen, kommen Alarme hier an.`,
    testBody: (name) =>
      `Dies ist eine Probe für ${name}. Wenn Sie dies lesen, kommen Alarme hier an.`,
    link: {
      alarm: "Einzelheiten und Quittieren:",
      digest: "Einzelheiten:",
      reminder: "Einzelheiten:",
      test: "Bitte auch diesen Link probieren; hinter einem solchen stehen die Einzelheiten eines Alarms:",
    },
    repeat: "(Wiederholung)",
    repeatNote: "Diese Nachricht haben Sie vielleicht schon erhalten.",
  },
  es: {
    since: (time) => `desde las ${time}`,
    toLookAt: (site, count) =>
      count === 1 ? `${site}: hay una cosa que mirar.` : `${site}: hay ${count} cosas que mirar.`,
    times: (count) => `${count} veces`,
    more: (count) => `y ${count} más`,
    gone: "ya se quitó por sí sola",
    testLine: (site) => `${site}: prueba de Leeward. Si lee esto, las alarmas le llegan aquí.`,
    testBody: (name) => `Esto es una prueba para ${name}. Si lee esto, las alarmas le llegan aquí.`,
    link: {
      alarm: "Detalles y confirmación:",
      digest: "Detalles:",
      reminder: "Detalles:",
      test: "Pruebe también este enlace; tras uno así están los detalles de una alarma:",
    },
    repeat: "(repetido)",
    repeatNote: "Puede que este mensaje ya le haya llegado.",
  },
};
