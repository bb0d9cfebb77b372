import { readRunFile } from "../../core/exchange/read-run-file.ts";
import type { RunFile } from "../../core/exchange/run-file.ts";
import { failed, issue, placedIn, type Result } from "../../core/result.ts";
import type { Io } from "./verb.ts";

/** Reads a run file from a path; every issue names the file first. */
export async function readRun(path: string, io: Io): Promise<Result<RunFile>> {
  let bytes: Uint8Array;
  try {
    bytes = await io.readFile(path);
  } catch (error) {
    const remedy = "look at the path, and whether the file may be read";
    return failed(issue("file-unreadable", path, String((error as Error).message), remedy));
  }
  const run = readRunFile(bytes);
  return run.ok ? run : failed(...placedIn(path, run.issues));
}
