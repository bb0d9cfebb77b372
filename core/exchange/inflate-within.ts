import { Inflate } from "fflate";
import { failed, issue, ok, type Result } from "../result.ts";

/** Deflate makes at most a thousandfold of a slice, so no slice can outgrow memory before it is counted. */
const SLICE_BYTES = 256;

const joined = (chunks: readonly Uint8Array[], total: number): Uint8Array => {
  const whole = new Uint8Array(total);
  let at = 0;
  for (const chunk of chunks) {
    whole.set(chunk, at);
    at += chunk.length;
  }
  return whole;
};

/**
 * Raw deflate back to bytes, counted while they come and stopped at the limit: a few bytes from
 * outside can ask for a gigabyte.
 * @param most_bytes  the largest result that is let through
 * @fails inflated-too-large, deflate-broken
 */
export const inflateWithin = (packed: Uint8Array, most_bytes: number, where: string): Result<Uint8Array> => {
  const chunks: Uint8Array[] = [];
  let total = 0;
  const stream = new Inflate((chunk) => {
    total += chunk.length;
    chunks.push(chunk);
  });
  try {
    for (let at = 0; at < packed.length; at += SLICE_BYTES) {
      stream.push(packed.subarray(at, at + SLICE_BYTES), at + SLICE_BYTES >= packed.length);
      if (total <= most_bytes) continue;
      const detail = `it unpacks to more than ${most_bytes} bytes`;
      return failed(issue("inflated-too-large", where, detail, "Take the run as a file instead."));
    }
  } catch (fault) {
    const detail = `it does not unpack: ${fault instanceof Error ? fault.message : String(fault)}`;
    return failed(issue("deflate-broken", where, detail, "Start again, or take the run as a file."));
  }
  return ok(joined(chunks, total));
};
