import type { Seeded } from "./seeded.ts";

/** What can happen to a force file between the recorder and the bench. */
export type Mutation = { readonly name: string; readonly bytes: Uint8Array };

type Mutate = (bytes: Uint8Array, random: Seeded) => Uint8Array;

const encode = (text: string) => new TextEncoder().encode(text);
const decode = (bytes: Uint8Array) => new TextDecoder("latin1").decode(bytes);

const utf16 = (text: string, little: boolean, mark: boolean): Uint8Array => {
  const out: number[] = mark ? (little ? [0xff, 0xfe] : [0xfe, 0xff]) : [];
  for (const char of text) {
    const unit = char.charCodeAt(0);
    out.push(...(little ? [unit & 255, unit >> 8] : [unit >> 8, unit & 255]));
  }
  return Uint8Array.from(out);
};

const place = (bytes: Uint8Array, random: Seeded) => random.integer(0, Math.max(0, bytes.length - 1));
const without = (bytes: Uint8Array, from: number, to: number) =>
  Uint8Array.from([...bytes.subarray(0, from), ...bytes.subarray(to)]);
const inserted = (bytes: Uint8Array, at: number, more: Uint8Array) =>
  Uint8Array.from([...bytes.subarray(0, at), ...more, ...bytes.subarray(at)]);
const linesOf = (bytes: Uint8Array) => decode(bytes).split("\n");

const png = Uint8Array.from([
  0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 0x0d, 0x49, 0x48, 0x44, 0x52, 0, 0, 0, 1, 0, 0, 0,
  1, 8, 6,
]);
const oddCells = [
  "NaN",
  "",
  "Inf",
  "-1.#IND",
  "1e999",
  "9".repeat(400),
  "--",
  "0x1F",
  "1,2,3",
  "\u221212.5",
  "12:00:01",
  "1e-400",
  "#N/A",
  "ovf",
  "true",
];

const mutations: Readonly<Record<string, Mutate>> = {
  "cut at the end": (b, r) => b.subarray(0, place(b, r)),
  "cut at the start": (b, r) => b.subarray(place(b, r)),
  "piece gone": (b, r) => {
    const at = place(b, r);
    return without(b, at, Math.min(b.length, at + r.integer(1, 2000)));
  },
  "piece doubled": (b, r) => {
    const at = place(b, r);
    return inserted(b, at, b.slice(at, at + r.integer(1, 2000)));
  },
  "whole file twice": (b) => inserted(b, b.length, b),
  "bytes swapped": (b, r) => {
    const out = b.slice();
    for (let i = r.integer(1, 30); i > 0; i--) {
      const [a, c] = [place(b, r), place(b, r)];
      [out[a], out[c]] = [out[c]!, out[a]!];
    }
    return out;
  },
  "bytes replaced": (b, r) => {
    const out = b.slice();
    for (let i = r.integer(1, 30); i > 0; i--) out[place(b, r)] = r.integer(0, 255);
    return out;
  },
  "digits replaced": (b, r) => {
    const out = b.slice();
    for (let i = r.integer(1, 20); i > 0; i--) {
      const at = place(b, r);
      if (out[at]! >= 48 && out[at]! <= 57) out[at] = r.integer(48, 57);
    }
    return out;
  },
  "bit flipped": (b, r) => {
    const out = b.slice();
    const at = place(b, r);
    out[at] = out[at]! ^ (1 << r.integer(0, 7));
    return out;
  },
  "lines shuffled": (b, r) => {
    const lines = linesOf(b);
    for (let i = r.integer(1, 40); i > 0; i--) {
      const [a, c] = [r.integer(0, lines.length - 1), r.integer(0, lines.length - 1)];
      [lines[a], lines[c]] = [lines[c]!, lines[a]!];
    }
    return encode(lines.join("\n"));
  },
  "lines backward": (b) => encode(linesOf(b).reverse().join("\n")),
  "header gone": (b) => encode(linesOf(b).slice(1).join("\n")),
  "odd cells": (b, r) => {
    const lines = linesOf(b);
    for (let i = r.integer(1, 20); i > 0; i--) {
      const at = r.integer(0, lines.length - 1);
      const cells = lines[at]!.split(",");
      cells[r.integer(0, cells.length - 1)] = r.oneOf(oddCells);
      lines[at] = cells.join(",");
    }
    return encode(lines.join("\n"));
  },
  "huge numbers": (b, r) => {
    const lines = linesOf(b);
    for (let i = r.integer(1, 6); i > 0; i--) {
      const at = r.integer(0, lines.length - 1);
      const cells = lines[at]!.split(",");
      cells[r.integer(0, cells.length - 1)] = `${r.oneOf(["", "-"])}${r.integer(1, 9)}e${r.integer(3, 308)}`;
      lines[at] = cells.join(",");
    }
    return encode(lines.join("\n"));
  },
  "column gone": (b, r) => {
    const k = r.integer(0, 2);
    return encode(
      linesOf(b)
        .map((line) =>
          line
            .split(",")
            .filter((_, i) => i !== k)
            .join(","),
        )
        .join("\n"),
    );
  },
  "separator changed": (b, r) =>
    encode(decode(b).replaceAll(",", r.oneOf([";", "\t", " ", "|", ", ", ":", "&", "\u00a0"]))),
  "decimal comma everywhere": (b) => encode(decode(b).replaceAll(".", ",")),
  "line ends changed": (b, r) =>
    encode(decode(b).replaceAll("\n", r.oneOf(["\r\n", "\r", "\n\n", "\u2028", ""]))),
  "UTF-16": (b, r) => utf16(decode(b), r.chance(0.5), r.chance(0.7)),
  "UTF-16 cut": (b, r) => utf16(decode(b), r.chance(0.5), true).subarray(0, place(b, r) * 2 + 1),
  "UTF-8 mark": (b) => inserted(b, 0, Uint8Array.of(0xef, 0xbb, 0xbf)),
  "picture before": (b) => inserted(b, 0, png),
  "only a picture": (_, r) =>
    inserted(
      png,
      png.length,
      Uint8Array.from({ length: 200 }, () => r.integer(0, 255)),
    ),
  "noise bytes": (_, r) => Uint8Array.from({ length: r.integer(0, 3000) }, () => r.integer(0, 255)),
  "noise text": (_, r) =>
    encode(
      Array.from({ length: r.integer(0, 3000) }, () => r.oneOf([..."0123456789.,;-+eE \n\t#N"])).join(""),
    ),
  empty: () => new Uint8Array(0),
  "zeros inside": (b, r) => inserted(b, place(b, r), new Uint8Array(r.integer(1, 600))),
  "quotes and blanks": (b, r) => encode(decode(b).replaceAll(",", r.oneOf(['","', " , ", '" , "', ",,"]))),
  "one line": (b) => encode(decode(b).replaceAll("\n", " ")),
  "numbers turned to words": (b, r) =>
    encode(decode(b).replaceAll(String(r.integer(0, 9)), r.oneOf(["x", "O", "l", "?"]))),
};

export const mutationNames = Object.keys(mutations);

/** One mutation, sometimes two on top of one another. */
export function mutated(bytes: Uint8Array, random: Seeded): Mutation {
  const first = random.oneOf(mutationNames);
  const once = mutations[first]!(bytes, random);
  if (!random.chance(0.25) || once.length === 0) return { name: first, bytes: once };
  const second = random.oneOf(mutationNames);
  return { name: `${first}, then ${second}`, bytes: mutations[second]!(once, random) };
}
