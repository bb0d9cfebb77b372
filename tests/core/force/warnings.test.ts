import { describe, expect, test } from "vitest";
import { ordinaryCase, type Wishes } from "./synthetic/ordinary.ts";
import { reduceBytes, reduceCase } from "./synthetic/reduced.ts";
import { strangeShot } from "./synthetic/shot.ts";
import { recordBytes } from "./synthetic/text.ts";

/** Each warning once where it belongs, on a SYNTHETIC record made for it; the quiet record below has none. */
const seed = 6001;
const calm: Wishes = {
  rockPart: 0,
  hum_N: 0,
  drift_N_s: 0,
  discharge_s: 12,
  rate_Hz: 4000,
  conditions: { opening_m: 0.0217 },
};
const of = (
  wishes: Wishes,
  change: (setup: Record<string, unknown>) => Record<string, unknown> = (s) => s,
) => {
  const synthetic = ordinaryCase(seed, { ...calm, ...wishes });
  const result = reduceBytes(recordBytes(synthetic.record), change(synthetic.setup));
  if (!result.ok) throw new Error(result.issues.map((i) => i.code).join());
  const event = result.value.events[0];
  if (event === undefined) throw new Error(result.value.issues.map((i) => i.code).join());
  return event.warnings;
};
const codes = (...args: Parameters<typeof of>) => of(...args).map((w) => w.code);
const onset_s = ordinaryCase(seed, calm).onset_s;
const end_s = onset_s + ordinaryCase(seed, calm).shot.end_s;
const peak_N = ordinaryCase(seed, calm).record.channels_N[0]!.reduce((most, x) => Math.max(most, x), 0);

describe("warnings", () => {
  test("are silent on a calm record", () => expect(codes({})).toEqual([]));

  const shortened = (length_s: number) => ({ length_s });
  test.each([
    ["sampling-too-slow", { rate_Hz: 400, ring_Hz: 120 }],
    ["tail-too-short", shortened(end_s + 0.09)],
    ["stand-moved", { bumps: [{ at_s: end_s + 0.8, lasts_s: 0.4, peak_N: 3 }], length_s: end_s + 2 }],
    ["drift-after-zero", { drift_N_s: 0.3 }],
    ["discharge-time-not-fitted", { stated: "fit", discharge_s: 25, noise_N: 0.5, length_s: end_s + 0.7 }],
    ["clipped-rebuilt", { clip_N: [0.6 * peak_N, Number.POSITIVE_INFINITY] }],
    ["stopper-outside", { stopperOutside: true }],
    [
      "water-end-not-seen",
      { shot: (_random, c) => strangeShot("triangle", 11, 0.12, c.water_kg, false, 2e-5) },
    ],
    ["slow-rise", { shot: (_random, c) => strangeShot("half-sine", 11, 0.5, c.water_kg, false, 2e-5) }],
  ] satisfies [string, Wishes][])("say %s", (code, wishes) => {
    expect(codes(wishes)).toContain(code);
  });

  test("say quiet-too-short where the recorder started late", () => {
    const synthetic = ordinaryCase(seed, calm);
    const from = Math.round((onset_s - 0.07) * synthetic.record.rate_Hz);
    const text = new TextDecoder().decode(recordBytes(synthetic.record)).split("\n");
    const late = [text[0], ...text.slice(1 + from)].join("\n");
    const result = reduceBytes(new TextEncoder().encode(late), synthetic.setup);
    expect(result.ok && result.value.events[0]!.warnings.map((w) => w.code)).toContain("quiet-too-short");
  });

  test("say gap-in-event, with the line", () => {
    const synthetic = ordinaryCase(seed, calm);
    const at = Math.round((onset_s + 0.03) * synthetic.record.rate_Hz);
    const result = reduceCase(synthetic, { missing: new Set([at, at + 1, at + 2]) });
    const warning = result.ok
      ? result.value.events[0]!.warnings.find((w) => w.code === "gap-in-event")
      : undefined;
    expect(warning?.detail).toContain(`after line ${at + 1}`);
  });

  test("say end-level-off and jet-area-off where the water's mass is another", () => {
    const found = codes({}, (setup) => ({ ...setup, water_kg: 0.75 * (setup["water_kg"] as number) }));
    expect(found).toEqual(["end-level-off", "jet-area-off"]);
  });

  test("say channels-disagree where one of them discharges much faster than is stated", () => {
    const both = (s: Record<string, unknown>) =>
      (s["channels"] as Record<string, unknown>[]).map((c) => ({ ...c, dischargeTime_s: 12 }));
    expect(codes({ discharge_s: [0.6, 12] }, (s) => ({ ...s, channels: both(s) }))).toContain(
      "channels-disagree",
    );
  });

  test("say discharge-time-doubtful where the tail follows another", () => {
    const channels = (setup: Record<string, unknown>) =>
      (setup["channels"] as Record<string, unknown>[]).map((c) => ({ ...c, dischargeTime_s: 2 }));
    expect(codes({ discharge_s: 1.2, noise_N: 0.05 }, (s) => ({ ...s, channels: channels(s) }))).toContain(
      "discharge-time-doubtful",
    );
  });

  test("each say what to do, in words of their own", () => {
    const remedies = [...of({ drift_N_s: 0.3 }), ...of({ stopperOutside: true })].map((w) => w.remedy);
    expect(new Set(remedies).size).toBe(remedies.length);
    for (const remedy of remedies) expect(remedy.length).toBeGreaterThan(20);
  });
});

describe("an event that cannot be measured", () => {
  test("because the record ends in it is refused with event-cut-off", () => {
    const synthetic = ordinaryCase(seed, { ...calm, length_s: onset_s + 0.03 });
    const result = reduceCase(synthetic);
    expect(result.ok && [result.value.events.length, result.value.issues.map((i) => i.code)]).toEqual([
      0,
      ["event-cut-off"],
    ]);
  });
});
