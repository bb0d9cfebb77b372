import { failed, type Issue, issue, ok, type Result } from "../../core/result.ts";
import type { Io } from "./verb.ts";

/** Where in the text the parser stopped, as an editor shows it. */
function lineAndColumn(text: string, message: string): string | undefined {
  const position = /at position (\d+)/.exec(message)?.[1];
  const before = text.slice(0, position === undefined ? text.length : Number(position)).split("\n");
  return position === undefined && !/end of JSON/.test(message)
    ? undefined
    : `line ${before.length}, column ${(before.at(-1)?.length ?? 0) + 1}`;
}

/**
 * Reads a JSON file as a person may have left it: a byte order mark does no harm, a slip is placed.
 * @param path  "-" reads standard input
 * @fails file-unreadable, json-invalid
 */
export async function readJsonFile(path: string, io: Io): Promise<Result<unknown, Issue>> {
  let bytes: Uint8Array;
  try {
    bytes = await io.readFile(path);
  } catch (error) {
    const remedy = "Look at the path, and whether the file may be read.";
    return failed(issue("file-unreadable", path, String((error as Error).message), remedy));
  }
  let text = "";
  try {
    text = new TextDecoder("utf-8", { fatal: true }).decode(bytes);
    return ok(JSON.parse(text));
  } catch (error) {
    const message = String((error as Error).message);
    const place = lineAndColumn(text, message);
    const remedy = "Keys and texts stand in double quotes, decimals have a point, no comma stands at an end.";
    return failed(issue("json-invalid", place ? `${path}, ${place}` : path, message, remedy));
  }
}
