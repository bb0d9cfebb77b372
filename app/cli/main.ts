import { mkdir, readFile, writeFile } from "node:fs/promises";
import { dirname } from "node:path";
import { buffer } from "node:stream/consumers";
import { version } from "../../package.json";
import { faultOfOurs, runTerminal } from "./run.ts";
import { verbs } from "./verbs.ts";

// `fourfast … | head` closes the pipe early; that is the reader's choice and no fault.
process.stdout.on("error", (error: NodeJS.ErrnoException) => {
  if (error.code !== "EPIPE") throw error;
});

const io = {
  readFile: (path: string) => (path === "-" ? buffer(process.stdin) : readFile(path)),
  writeFile: async (path: string, text: string) => {
    await mkdir(dirname(path), { recursive: true });
    await writeFile(path, text);
  },
  out: (text: string) => void process.stdout.write(text),
  err: (text: string) => void process.stderr.write(text),
};

// exitCode rather than exit(): a long answer on a pipe is then written to its end.
try {
  process.exitCode = await runTerminal(process.argv.slice(2), { verbs, version, io });
} catch (error) {
  io.err(
    `fourfast itself failed; please report this with the command that you gave.\n${String((error as Error).stack)}\n`,
  );
  process.exitCode = faultOfOurs;
}
