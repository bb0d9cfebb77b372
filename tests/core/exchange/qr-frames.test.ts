import { fc, test as property } from "@fast-check/vitest";
import { deflateSync, strToU8 } from "fflate";
import { expect, test } from "vitest";
import { HERON } from "../../../app/demo/documents.ts";
import { bareRun, sealedRun } from "../../../core/exchange/bare-run.ts";
import {
  addFrame,
  type Collected,
  missingFrames,
  readFrame,
  restoreRun,
} from "../../../core/exchange/collect-frames.ts";
import { inflateWithin } from "../../../core/exchange/inflate-within.ts";
import { CODE_SIZES, checksum, frameAt, MOST_FRAMES, makeFrames } from "../../../core/exchange/qr-frames.ts";
import { writeRunFile } from "../../../core/exchange/run-file.ts";
import type { Result } from "../../../core/result.ts";
import { nominalLog } from "../record/short-log.ts";

const good = <T>(result: Result<T>): T => {
  if (!result.ok) throw new Error(JSON.stringify(result.issues));
  return result.value;
};
const codes = (result: Result<unknown>): readonly string[] =>
  result.ok ? [] : result.issues.map(({ code }) => code);

const entries = nominalLog();
const textOf = (run: string, count = entries.length): string =>
  good(writeRunFile({ run, log: "log1", ...HERON, entries: entries.slice(0, count) }));
const TEXT = textOf("H-329-01");
const FRAMES = good(makeFrames(TEXT, CODE_SIZES.coarse.frame_bytes)).frames;
/** The same run one entry shorter: another id, the same code. */
const OTHER = good(makeFrames(textOf("H-329-01", entries.length - 1), CODE_SIZES.coarse.frame_bytes)).frames;

const collect = (frames: readonly Uint8Array[], from?: Collected) =>
  frames.reduce<Collected | undefined>((collected, frame) => addFrame(collected, frame).collected, from);

const whole = (frames: readonly Uint8Array[]): string => {
  const collected = collect(frames);
  if (!collected) throw new Error("nothing was collected");
  return good(restoreRun(collected));
};

test("a run is cut into frames that each fit their code, and comes back byte for byte", () => {
  for (const { frame_bytes } of Object.values(CODE_SIZES)) {
    const { code, frames } = good(makeFrames(TEXT, frame_bytes));
    expect(code).toBe("H-329-01");
    expect(Math.max(...frames.map(({ length }) => length))).toBeLessThanOrEqual(frame_bytes);
    expect(frames.length).toBeGreaterThan(1);
    expect(whole(frames)).toBe(TEXT);
  }
});

test("without what can be computed again the entries weigh less than half", () => {
  const bare = good(bareRun(TEXT));
  expect(bare).not.toContain('"prev"');
  expect(good(sealedRun(bare))).toBe(TEXT);
  const weigh = (text: string) => deflateSync(strToU8(text.split("\n").slice(3).join("\n"))).length;
  expect(weigh(bare)).toBeLessThan(weigh(TEXT) / 2);
});

test("a text that would not come back the same is refused before it is shown", () => {
  expect(codes(bareRun(TEXT.replace(/"mono":\d+/, '"mono":7')))).toEqual(["run-not-sealed"]);
  expect(codes(bareRun(TEXT.replaceAll("\n", "\r\n")))).toEqual(["run-not-sealed"]);
  expect(codes(bareRun(TEXT.slice(0, -30)))).toEqual(["line-not-json"]);
  expect(codes(makeFrames(TEXT.replace('"seq":1,', '"seq":1.5,'), 520))).toEqual(["value-unstable"]);
  expect(codes(makeFrames("time,force\n0,1\n", 520))).toEqual(["run-file-unknown"]);
});

test("a run of more codes than anyone waits for is refused, with the other way", () => {
  // Text that does not deflate, in a rig's line that is only carried here.
  let state = 1;
  const noise = Array.from({ length: 400_000 }, () => {
    state = (state * 48_271) % 2_147_483_647;
    return (state % 36).toString(36);
  }).join("");
  const [head, , procedure, ...body] = TEXT.split("\n");
  const long = makeFrames([head, noise, procedure, ...body].join("\n"), 520);
  expect(codes(long)).toEqual(["run-too-long-for-codes"]);
});

/** Each of these reads a whole run file at every draw. */
const fewer = { numRuns: 25 };

property.prop([fc.infiniteStream(fc.nat()), fc.integer({ min: 1, max: 3 })], fewer)(
  "any order, with any frames repeated, gives the same text",
  (chance, times) => {
    const shuffled = FRAMES.flatMap((frame) => Array(times).fill(frame) as Uint8Array[])
      .map((frame) => ({ frame, rank: chance.next().value as number }))
      .toSorted((a, b) => a.rank - b.rank)
      .map(({ frame }) => frame);
    expect(whole(shuffled)).toBe(TEXT);
  },
);

property.prop(
  [fc.uniqueArray(fc.nat(FRAMES.length - 1), { minLength: 1, maxLength: FRAMES.length - 1 })],
  fewer,
)("lost frames are named, and nothing is restored until they are there", (lost) => {
  const collected = collect(FRAMES.filter((_, i) => !lost.includes(i)));
  if (!collected) throw new Error("nothing was collected");
  expect(missingFrames(collected)).toEqual(lost.toSorted((a, b) => a - b));
  expect(codes(restoreRun(collected))).toEqual(["frames-missing"]);
  const rest = collect(
    lost.flatMap((i) => FRAMES[i] ?? []),
    collected,
  );
  expect(rest && good(restoreRun(rest))).toBe(TEXT);
});

property.prop([fc.nat(FRAMES.length - 1), fc.nat(10_000), fc.integer({ min: 1, max: 255 })])(
  "one changed byte anywhere is noticed, and the collection stays as it was",
  (which, where, flip) => {
    const frame = (FRAMES[which] as Uint8Array).slice();
    frame[where % frame.length] = (frame[where % frame.length] as number) ^ flip;
    const before = collect(FRAMES.slice(0, 1));
    const { verdict, collected } = addFrame(before, frame);
    expect(["damaged", "foreign"]).toContain(verdict);
    expect(collected).toBe(before);
  },
);

property.prop([fc.uint8Array({ maxLength: 600 })])(
  "codes of the world around are told from frames, whatever they hold",
  (bytes) => {
    const { verdict, collected } = addFrame(undefined, bytes);
    expect(["damaged", "foreign"]).toContain(verdict);
    expect(collected).toBeUndefined();
  },
);

property.prop([fc.uint8Array({ minLength: 1, maxLength: 80 }), fc.nat(60_000), fc.nat(60_000)])(
  "frames made by somebody else on purpose end in issues, never in a run",
  (part, index, count) => {
    const head = [0x34, 0x46, 1, 1, 2, 3, 4, 5, 6, 7, 8, index >> 8, index & 255, count >> 8, count & 255, 0];
    const body = Uint8Array.of(...head, ...part);
    const { verdict, collected } = addFrame(undefined, Uint8Array.of(...body, ...checksum(body)));
    if (index >= count || count > MOST_FRAMES) expect(verdict).toBe("damaged");
    else expect(codes(restoreRun(collected as Collected))[0]).toMatch(/^frames-m/);
  },
);

property.prop([fc.array(fc.tuple(fc.boolean(), fc.nat()), { minLength: 1, maxLength: 60 })], fewer)(
  "frames of another run never mix with those that are there",
  (picks) => {
    const shown = picks.map(([mine, i]) => (mine ? FRAMES : OTHER)[i % FRAMES.length] ?? OTHER[0]);
    const collected = collect([FRAMES[0], ...shown, ...FRAMES] as Uint8Array[]);
    expect(collected && good(restoreRun(collected))).toBe(TEXT);
  },
);

test("each frame is told for what it is", () => {
  const [first, second] = FRAMES as [Uint8Array, Uint8Array];
  const one = addFrame(undefined, first);
  expect(one.verdict).toBe("new");
  expect(one.collected).toMatchObject({ code: "H-329-01", count: FRAMES.length });
  expect(addFrame(one.collected, first)).toEqual({ verdict: "known", collected: one.collected });
  expect(addFrame(one.collected, second).verdict).toBe("new");
  expect(addFrame(one.collected, OTHER[1] as Uint8Array).verdict).toBe("other-run");
  const later = first.slice(0, -4);
  later[2] = 2;
  expect(readFrame(Uint8Array.of(...later, ...checksum(later)))).toBe("newer");
});

test("when the phone changes the size of its codes, collecting begins anew with the new ones", () => {
  const fine = good(makeFrames(TEXT, CODE_SIZES.fine.frame_bytes)).frames;
  const before = collect(FRAMES.slice(0, 3));
  const { verdict, collected } = addFrame(before, fine[0] as Uint8Array);
  expect(verdict).toBe("recut");
  expect(collected && missingFrames(collected)).toHaveLength(fine.length - 1);
  expect(whole([...FRAMES.slice(0, 3), ...fine])).toBe(TEXT);
});

test("parts that do not fit together are refused, though each frame was whole", () => {
  const collected = collect(FRAMES) as Collected;
  const parts = new Map(collected.parts).set(0, collected.parts.get(1) as Uint8Array);
  expect(codes(restoreRun({ ...collected, parts }))).toEqual(["frames-mismatched"]);
});

test("unpacking stops at its limit instead of filling the memory", () => {
  const bomb = deflateSync(new Uint8Array(20_000_000), { level: 9 });
  expect(bomb.length).toBeLessThan(20_000);
  expect(codes(inflateWithin(bomb, 1_000_000, "here"))).toEqual(["inflated-too-large"]);
  expect(codes(inflateWithin(bomb.slice(0, 300), 20_000_000, "here"))).toEqual(["deflate-broken"]);
  expect(codes(inflateWithin(Uint8Array.of(7, 7, 7), 100, "here"))).toEqual(["deflate-broken"]);
  expect(good(inflateWithin(deflateSync(strToU8("ja")), 2, "here"))).toEqual(strToU8("ja"));
});

property.prop([fc.integer({ min: 1, max: 40 }), fc.array(fc.nat(1000), { minLength: 1, maxLength: 5 })])(
  "every round of the show holds every frame once, wherever it starts",
  (count, starts) => {
    for (let round = 0; round < 4; round++) {
      const shown = Array.from({ length: count }, (_, i) => frameAt(round * count + i, count, starts));
      expect(new Set(shown).size).toBe(count);
      expect(shown[0]).toBe((starts[round % starts.length] as number) % count);
    }
  },
);
