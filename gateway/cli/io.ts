/** What a command reads and writes; tests give their own. */
export interface CommandIo {
  stdin: NodeJS.ReadableStream;
  out(text: string): void;
  error(text: string): void;
  environment: Readonly<Record<string, string | undefined>>;
}

/** A mistake in the command line: told with the way to the help, exit code 2. */
export class UsageError extends Error {
  constructor(message: string) {
    super(message);
    this.name = "UsageError";
  }
}

export const processIo: CommandIo = {
  stdin: process.stdin,
  out: (text) => {
    process.stdout.write(text);
  },
  error: (text) => {
    process.stderr.write(text);
  },
  environment: process.env,
};
