import { failed, type Issue, ok, placedIn, type Result } from "../../core/result.ts";
import { parseSignOff, type SignOff, signOffName, signOffText } from "../../core/review/sign-off.ts";
import type { FileStore } from "../ports.ts";

/** What safety officers said of the runs of this device: each a file of its own, and none is ever changed. */

export type SignOffs = {
  /** The newest first. */
  readonly signed: readonly SignOff[];
  readonly faults: readonly Issue[];
};

export async function keptSignOffs(files: FileStore): Promise<SignOffs> {
  const list = await files.list();
  if (!list.ok) return { signed: [], faults: list.issues };
  const ours = list.value.filter(({ kind }) => kind === "review");
  const read = await Promise.all(ours.map(({ digest }) => readOne(files, digest)));
  return {
    signed: read.flatMap((one) => (one.ok ? [one.value] : [])).toSorted((a, b) => b.at - a.at),
    faults: read.flatMap((one) => (one.ok ? [] : one.issues)),
  };
}

async function readOne(files: FileStore, digest: string): Promise<Result<SignOff>> {
  const file = await files.get(digest);
  if (!file.ok) return file;
  let json: unknown;
  try {
    json = JSON.parse(new TextDecoder().decode(file.value.bytes));
  } catch {
    json = undefined;
  }
  const read = parseSignOff(json);
  return read.ok ? read : failed(...placedIn(file.value.name, read.issues));
}

/** @fails what the store says */
export async function keepSignOff(files: FileStore, signed: SignOff): Promise<Result<SignOff>> {
  const bytes = new TextEncoder().encode(signOffText(signed)).buffer;
  const put = await files.put({ name: signOffName(signed), kind: "review", at: signed.at, bytes });
  return put.ok ? ok(signed) : put;
}
