/** 0 fine, 1 the input is at fault, 2 wrong usage. */
export type ExitCode = 0 | 1 | 2;

/** What a verb may touch; handed in, so that a test can be the terminal. */
export interface Io {
  /** "-" reads standard input. */
  readFile(path: string): Promise<Uint8Array>;
  /** Makes the folder where it is not there. Only verbs that say so write. */
  writeFile?(path: string, text: string): Promise<void>;
  /** Standard output: the answer, and with --json one JSON object and nothing else. */
  out(text: string): void;
  /** Standard error: messages for a person. */
  err(text: string): void;
}

export interface Verb {
  run(args: readonly string[], io: Io): Promise<ExitCode>;
  /** First line: what it does, in one sentence. Then usage, flags and examples. */
  help: string;
}
