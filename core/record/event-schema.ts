import * as v from "valibot";
import type { DeepReadonly, SameShape } from "../schema/same-shape.ts";
import { ROLES } from "../sequence/roles.ts";
import type { LogEvent } from "./entry.ts";

/**
 * Every word that a log may say, as a strict schema: what comes in from another device is read
 * against it before anything is folded. Lengths are there to stop a flood, not to judge words.
 */

const text = (longest = 2000) => v.pipe(v.string(), v.maxLength(longest, `at most ${longest} characters`));
/** A person's code, a step's or a part's name. */
const id = text(200);
const whole = v.pipe(v.number(), v.safeInteger("a whole number"));

const ReadingSchema = v.variant("kind", [
  v.strictObject({ kind: v.literal("single"), typed: text(60), unit: text(20), instrument: id }),
  v.strictObject({
    kind: v.literal("difference"),
    gross: text(60),
    tare: text(60),
    unit: text(20),
    instrument: id,
  }),
  v.strictObject({
    kind: v.literal("volume"),
    typed: text(60),
    unit: text(20),
    temperature: text(60),
    temperatureUnit: text(20),
    instrument: id,
  }),
]);

const bare = <const T extends string>(type: T) => v.strictObject({ type: v.literal(type) });
const withWhy = <const T extends string>(type: T) => v.strictObject({ type: v.literal(type), why: text() });

const permissions = [
  v.strictObject({ type: v.literal("signed-on"), person: id, role: v.picklist(ROLES) }),
  v.strictObject({
    type: v.literal("step-done"),
    step: id,
    seenBy: id,
    answer: v.exactOptional(text()),
    reading: v.exactOptional(ReadingSchema),
  }),
  v.strictObject({
    type: v.literal("step-skipped"),
    step: id,
    reason: v.picklist(["not-on-this-rig", "equipment-missing", "done-earlier", "instructor-said"]),
    words: text(),
    agreedBy: id,
  }),
  v.strictObject({
    type: v.literal("restraint-answered"),
    restraint: id,
    round: v.picklist([1, 2]),
    answer: v.picklist(["home", "part", "open", "unseen"]),
    seenBy: id,
  }),
  bare("fill-called"),
  bare("seal-called"),
  bare("mount-called"),
  bare("restrain-called"),
  bare("line-called"),
  v.strictObject({ type: v.literal("clear-called"), seenBy: id }),
  bare("air-called"),
  bare("pressure-called"),
  bare("arm-called"),
  bare("release-called"),
  bare("discharge-called"),
  v.strictObject({ type: v.literal("discharge-agreed"), person: id, words: text() }),
  bare("wait-called"),
  v.strictObject({ type: v.literal("approach-called"), person: id }),
  bare("close-called"),
  v.strictObject({
    type: v.literal("back-called"),
    to: v.picklist(["preparing", "filling", "sealing", "mounting", "restraining"]),
    why: text(),
  }),
  v.strictObject({ type: v.literal("hold-cleared"), with: id, why: text() }),
  withWhy("unresolved-declared"),
  v.strictObject({ type: v.literal("unresolved-ended"), person: id, evidence: text(), done: text() }),
  withWhy("scrub-called"),
] as const;

const reports = [
  withWhy("hold-called"),
  withWhy("make-safe-called"),
  bare("released"),
  bare("nothing-happened"),
  bare("window-passed"),
  bare("air-seen-on"),
  v.strictObject({ type: v.literal("restraint-seen-open"), restraint: id }),
  bare("line-crossed"),
  bare("bottle-moved"),
  bare("leak-seen"),
  bare("water-in-line"),
  v.strictObject({ type: v.literal("gauge-read"), gauge: id, reading: ReadingSchema }),
  withWhy("staff-called"),
  v.strictObject({ type: v.literal("kit-tagged-out"), part: id, why: text() }),
  v.strictObject({ type: v.literal("noted"), text: text() }),
  v.strictObject({ type: v.literal("corrected"), entry: whole, why: text() }),
  v.strictObject({ type: v.literal("handed-over"), to: id }),
  bare("restarted"),
  v.strictObject({
    type: v.literal("interrupted"),
    cause: v.picklist(["background", "locked", "idle"]),
    gap_ms: whole,
  }),
  v.strictObject({ type: v.literal("clock-jumped"), wallGap_ms: whole, monoGap_ms: whole }),
  v.strictObject({ type: v.literal("power-low"), percent: whole }),
  v.strictObject({
    type: v.literal("refused"),
    event: text(60),
    missing: v.pipe(v.array(text(200)), v.maxLength(200, "at most 200")),
  }),
] as const;

const aboutTheRecord = [
  v.strictObject({
    type: v.literal("opened"),
    run: text(60),
    rig: text(64),
    procedure: text(64),
    drill: v.boolean(),
    transcribed: v.boolean(),
    software: text(60),
  }),
  v.strictObject({
    type: v.literal("kept"),
    what: v.picklist(["persistence", "shared", "takeover", "ready", "photo"]),
    words: text(),
  }),
] as const;

export const SequenceEventSchema = v.variant("type", [...permissions, ...reports]);
export const LogEventSchema = v.variant("type", [...permissions, ...reports, ...aboutTheRecord]);

const sameAsType: SameShape<DeepReadonly<v.InferOutput<typeof LogEventSchema>>, LogEvent> = true;
void sameAsType;

export const StampEntries = {
  at: whole,
  mono: whole,
  session: text(100),
} as const;
