import { bytesToHex, concatBytes } from "@noble/hashes/utils.js";
import { strFromU8 } from "fflate";
import { failed, issue, ok, type Result } from "../result.ts";
import { sealedRun } from "./bare-run.ts";
import { inflateWithin } from "./inflate-within.ts";
import { checksum, FRAME, idOf, MOST_FRAMES } from "./qr-frames.ts";
import { readRunFile } from "./read-run-file.ts";

/** The receiving side of qr-frames: frames in any order, repeated, lost, damaged, or from elsewhere. */

export type Frame = {
  /** Hexadecimal. */
  readonly id: string;
  readonly index: number;
  readonly count: number;
  /** The run's code as the frame says it; believed once the whole run is read. */
  readonly code: string;
  readonly part: Uint8Array;
};

/** What is there of one run. */
export type Collected = Pick<Frame, "id" | "count" | "code"> & {
  readonly parts: ReadonlyMap<number, Uint8Array>;
};

/**
 * What a frame was: `new` or `known` to this collection, `recut` where the sender cuts the same run
 * otherwise now (the collection begins anew with it), `other-run`, or no frame: `damaged`, `foreign`
 * for a code that is none of ours, `newer` for one of a later version.
 */
export type Verdict = "new" | "known" | "recut" | "other-run" | "damaged" | "foreign" | "newer";

/** Far more than any run weighs without its digests. */
const BARE_BYTES = 4_000_000;

const SHORTEST_BYTES =
  FRAME.magic.length + 1 + FRAME.id_bytes + FRAME.place_bytes + FRAME.code_bytes + FRAME.checksum_bytes;

const sameBytes = (a: Uint8Array, b: Uint8Array): boolean =>
  a.length === b.length && a.every((byte, i) => byte === b[i]);

/** Reads one frame, or says why it is none. */
export const readFrame = (bytes: Uint8Array): Frame | "damaged" | "foreign" | "newer" => {
  const [first, second, version = 0] = bytes;
  if (first !== FRAME.magic[0] || second !== FRAME.magic[1]) return "foreign";
  if (bytes.length < SHORTEST_BYTES) return "damaged";
  const body = bytes.subarray(0, -FRAME.checksum_bytes);
  if (!sameBytes(checksum(body), bytes.subarray(body.length))) return "damaged";
  // Only a whole frame's word on its version counts.
  if (version !== FRAME.version) return version > FRAME.version ? "newer" : "damaged";
  const placeAt = FRAME.magic.length + 1 + FRAME.id_bytes;
  const codeAt = placeAt + FRAME.place_bytes + FRAME.code_bytes;
  const view = new DataView(body.buffer, body.byteOffset, body.length);
  const index = view.getUint16(placeAt);
  const count = view.getUint16(placeAt + 2);
  const partAt = codeAt + view.getUint8(codeAt - 1);
  if (index >= count || count > MOST_FRAMES || partAt >= body.length) return "damaged";
  return {
    id: bytesToHex(body.subarray(placeAt - FRAME.id_bytes, placeAt)),
    index,
    count,
    code: strFromU8(body.subarray(codeAt, partAt)),
    part: body.slice(partAt),
  };
};

/**
 * Adds a frame to what is there.
 * @param bytes  of one code, as the camera gave them
 * @returns what the frame was, and the collection with it; the same collection where it added nothing
 */
export const addFrame = (
  collected: Collected | undefined,
  bytes: Uint8Array,
): { readonly verdict: Verdict; readonly collected: Collected | undefined } => {
  const frame = readFrame(bytes);
  if (typeof frame === "string") return { verdict: frame, collected };
  const { id, index, count, code, part } = frame;
  if (collected && collected.id !== id) return { verdict: "other-run", collected };
  if (!collected || collected.count !== count)
    return {
      verdict: collected ? "recut" : "new",
      collected: { id, count, code, parts: new Map([[index, part]]) },
    };
  if (collected.parts.has(index)) return { verdict: "known", collected };
  return { verdict: "new", collected: { ...collected, parts: new Map(collected.parts).set(index, part) } };
};

/** Places of the frames that have not been seen, from 0, in their order. */
export const missingFrames = ({ count, parts }: Collected): readonly number[] =>
  Array.from({ length: count }, (_, index) => index).filter((index) => !parts.has(index));

/**
 * What was cut up, as it was carried: of a run its bare text, of a stand its file.
 * @fails frames-missing, frames-mismatched, inflated-too-large, deflate-broken
 */
export const restoreText = (collected: Collected): Result<string> => {
  const { code, id, count, parts } = collected;
  const missing = missingFrames(collected);
  if (missing.length > 0) {
    const detail = `${missing.length} of ${count} codes are missing`;
    return failed(issue("frames-missing", code, detail, "Hold the phone before the camera a little longer."));
  }
  const packed = concatBytes(
    ...Array.from({ length: count }, (_, index) => parts.get(index) ?? new Uint8Array()),
  );
  if (bytesToHex(idOf(packed)) !== id) {
    const detail = "the codes do not fit together";
    return failed(issue("frames-mismatched", code, detail, "Read them again, or take it as a file."));
  }
  const inflated = inflateWithin(packed, BARE_BYTES, code);
  return inflated.ok ? ok(strFromU8(inflated.value)) : inflated;
};

/**
 * The run file, byte for byte as it was on the phone, its chain computed again and checked against
 * the head digest, and everything else checked as for any run file.
 * @fails what `restoreText`, `sealedRun` and `readRunFile` fail with
 */
export const restoreRun = (collected: Collected): Result<string> => {
  const bare = restoreText(collected);
  const text = bare.ok ? sealedRun(bare.value) : bare;
  if (!text.ok) return text;
  const run = readRunFile(text.value);
  return run.ok ? text : run;
};
