import { sha256 } from "@noble/hashes/sha2.js";
import { concatBytes, utf8ToBytes } from "@noble/hashes/utils.js";
import { deflateSync } from "fflate";
import { assert } from "../assert.ts";
import { failed, issue, ok, type Result } from "../result.ts";
import { bareRun, fieldsOf } from "./bare-run.ts";
import { standFormat } from "./stand-text.ts";

/**
 * A run, or a stand, cut into frames, each for one QR code, shown in a loop until a camera has seen them all.
 * Every frame says which it belongs to, which of how many it is, and whether it is whole: they
 * may come in any order and as often as they like. A plain loop does it: below ten frames a fountain
 * code gains nothing, and above that a second look at the loop costs seconds. docs/formats.md.
 */

/** Bytes that a QR code holds in byte mode at correction level L. @source ISO/IEC 18004:2015, table 7 (remembered; the drawing fails where it does not fit) */
export const CODE_SIZES = {
  /** 77 modules a side: reads from an arm's length with any camera. */
  coarse: { qrVersion: 15, frame_bytes: 520 },
  /** 117 modules a side: half the codes, for a good camera held close. */
  fine: { qrVersion: 25, frame_bytes: 1270 },
} as const;
export type CodeSize = keyof typeof CODE_SIZES;

/** 0.2 MB packed and a minute of loop: what is longer goes as a file. */
export const MOST_FRAMES = 400;

/** The bytes of a frame, in their order; whole numbers are big-endian. */
export const FRAME = {
  /** "4F" */
  magic: [0x34, 0x46],
  version: 1,
  /** Begins the SHA-256 of everything that is carried: another run, or one entry more, is another id. */
  id_bytes: 8,
  /** index u16, count u16 */
  place_bytes: 4,
  /** Length of the run's code, or of the stand's id, in UTF-8, which follows: a person sees what is coming before it is there. */
  code_bytes: 1,
  /** Ends the frame: begins the SHA-256 of all before it. */
  checksum_bytes: 4,
} as const;

export const checksum = (body: Uint8Array): Uint8Array => sha256(body).subarray(0, FRAME.checksum_bytes);
export const idOf = (packed: Uint8Array): Uint8Array => sha256(packed).subarray(0, FRAME.id_bytes);

/** As the run file has it. */
const CODE_CHARACTERS = 60;

const u16 = (value: number): readonly number[] => [value >> 8, value & 0xff];

type Cut = { readonly packed: Uint8Array; readonly code: Uint8Array; readonly room_bytes: number };

const cutUp = ({ packed, code, room_bytes }: Cut): readonly Uint8Array[] => {
  const count = Math.ceil(packed.length / room_bytes);
  // Equal parts, so that the last code is drawn no coarser than the others.
  const part_bytes = Math.ceil(packed.length / count);
  const id = idOf(packed);
  return Array.from({ length: count }, (_, index) => {
    const body = concatBytes(
      Uint8Array.of(...FRAME.magic, FRAME.version),
      id,
      Uint8Array.of(...u16(index), ...u16(count), code.length),
      code,
      packed.subarray(index * part_bytes, (index + 1) * part_bytes),
    );
    return concatBytes(body, checksum(body));
  });
};

type Carried = { readonly code: string; readonly bare: string };

const runCode = (text: string): string | undefined => {
  const [line = ""] = text.split("\n", 1);
  const head = fieldsOf(line);
  const code = head?.["format"] === "fourfast-run" ? head["run"] : undefined;
  return typeof code === "string" && code.length <= CODE_CHARACTERS ? code : undefined;
};

const standId = (text: string): string | undefined => {
  const fields = fieldsOf(text);
  const rig = fields?.["format"] === standFormat ? (fields["rig"] as { readonly id?: unknown }) : undefined;
  return typeof rig?.id === "string" && rig.id.length <= CODE_CHARACTERS ? rig.id : undefined;
};

/** A run goes without what its own content gives back, a stand as it is. */
const carriedOf = (text: string): Result<Carried> => {
  const code = runCode(text);
  if (code !== undefined) {
    const bare = bareRun(text);
    return bare.ok ? ok({ code, bare: bare.value }) : bare;
  }
  const id = standId(text);
  if (id !== undefined) return ok({ code: id, bare: text });
  return failed(
    issue("run-file-unknown", "line 1", "this is neither a run file nor a stand's", "Export the run first."),
  );
};

/**
 * Cuts a run file, or a stand's, into frames.
 * @param text  as `writeRunFile` or `standText` gave it
 * @param frame_bytes  the most that a frame may hold, 320 or more
 * @returns the run's code, or the stand's id, and its frames, each at most that long
 * @fails run-file-unknown, run-too-long-for-codes, and what `bareRun` fails with
 */
export const makeFrames = (
  text: string,
  frame_bytes: number,
): Result<{ readonly code: string; readonly frames: readonly Uint8Array[] }> => {
  assert(frame_bytes >= 320, "a frame holds its own header and the longest code");
  const carried = carriedOf(text);
  if (!carried.ok) return carried;
  const { code, bare } = carried.value;
  const packed = deflateSync(utf8ToBytes(bare), { level: 9 });
  const codeBytes = utf8ToBytes(code);
  const header_bytes =
    FRAME.magic.length + 1 + FRAME.id_bytes + FRAME.place_bytes + FRAME.code_bytes + codeBytes.length;
  const frames = cutUp({
    packed,
    code: codeBytes,
    room_bytes: frame_bytes - header_bytes - FRAME.checksum_bytes,
  });
  if (frames.length <= MOST_FRAMES) return ok({ code, frames });
  const detail = `it would take ${frames.length} codes, and ${MOST_FRAMES} are the most`;
  return failed(issue("run-too-long-for-codes", code, detail, "Share or save the run as a file."));
};

/**
 * Which frame is shown at this step of the show. Each round begins elsewhere: a camera that is blind
 * at a steady beat would else miss the same frame every time.
 * @param step  0 for the first frame shown
 * @param starts  where the rounds begin, taken in turn: whole numbers from a source of chance
 */
export const frameAt = (step: number, count: number, starts: readonly number[]): number => {
  const start = starts[Math.floor(step / count) % starts.length] ?? 0;
  return (start + (step % count)) % count;
};
