/**
 * Recorders write UTF-8, UTF-16 or one byte a character. The reader works on bytes in which every
 * ASCII character is one byte, so only UTF-16 needs work; everything else passes untouched.
 */
export type Encoding = "utf-8" | "utf-16le" | "utf-16be";

/** @param first  the first bytes of the file, at least four where it has them */
export function encodingOf(first: Uint8Array): { encoding: Encoding; markLength: number } {
  if (first[0] === 0xef && first[1] === 0xbb && first[2] === 0xbf)
    return { encoding: "utf-8", markLength: 3 };
  if (first[0] === 0xff && first[1] === 0xfe) return { encoding: "utf-16le", markLength: 2 };
  if (first[0] === 0xfe && first[1] === 0xff) return { encoding: "utf-16be", markLength: 2 };
  // Without a mark: in digits and signs every second byte is zero.
  let even = 0;
  let odd = 0;
  const n = Math.min(first.length, 256) & ~1;
  for (let i = 0; i < n; i += 2) {
    if (first[i] === 0) even++;
    if (first[i + 1] === 0) odd++;
  }
  if (n >= 4 && odd > 0.8 * (n / 2) && even === 0) return { encoding: "utf-16le", markLength: 0 };
  if (n >= 4 && even > 0.8 * (n / 2) && odd === 0) return { encoding: "utf-16be", markLength: 0 };
  return { encoding: "utf-8", markLength: 0 };
}

/** UTF-16 into UTF-8, chunk by chunk; a character may be cut between two chunks. */
export class Utf16Narrower {
  readonly #high: 0 | 1;
  #kept = -1;

  constructor(encoding: "utf-16le" | "utf-16be") {
    this.#high = encoding === "utf-16le" ? 1 : 0;
  }

  narrow(chunk: Uint8Array): Uint8Array {
    const out = new Uint8Array(Math.ceil((chunk.length + 1) / 2) * 3);
    let to = 0;
    let i = 0;
    while (i < chunk.length) {
      const first = this.#kept >= 0 ? this.#kept : chunk[i++]!;
      if (i >= chunk.length) {
        this.#kept = first;
        break;
      }
      this.#kept = -1;
      const second = chunk[i++]!;
      const unit = this.#high === 1 ? first | (second << 8) : (first << 8) | second;
      if (unit < 0x80) out[to++] = unit;
      else if (unit < 0x800) {
        out[to++] = 0xc0 | (unit >> 6);
        out[to++] = 0x80 | (unit & 0x3f);
      } else {
        // Surrogates become three bytes each: they occur in names only, which are compared, not shown.
        out[to++] = 0xe0 | (unit >> 12);
        out[to++] = 0x80 | ((unit >> 6) & 0x3f);
        out[to++] = 0x80 | (unit & 0x3f);
      }
    }
    return out.subarray(0, to);
  }
}

/** Text of a few leading bytes: UTF-8, and where that does not hold, one byte a character. */
export function decodeText(bytes: Uint8Array): string {
  let text = "";
  for (let i = 0; i < bytes.length; ) {
    const first = bytes[i]!;
    const length =
      first < 0x80 ? 1 : first >= 0xc2 && first < 0xe0 ? 2 : first >= 0xe0 && first < 0xf0 ? 3 : 0;
    let point = length === 1 ? first : length === 2 ? first & 0x1f : first & 0x0f;
    let whole = length > 0 && i + length <= bytes.length;
    for (let k = 1; whole && k < length; k++) {
      const next = bytes[i + k]!;
      whole = (next & 0xc0) === 0x80;
      point = (point << 6) | (next & 0x3f);
    }
    text += String.fromCharCode(whole ? point : first);
    i += whole ? length : 1;
  }
  return text;
}
