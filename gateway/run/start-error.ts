/** A reason not to start that a person can do something about: one sentence, and the way out. */
export class StartError extends Error {
  constructor(message: string, cause?: unknown) {
    super(message, { cause });
    this.name = "StartError";
  }
}
