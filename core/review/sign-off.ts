import * as v from "valibot";
import { isSamePerson } from "../procedure/same-person.ts";
import type { Entry } from "../record/entry.ts";
import { failed, type Issue, issue, ok, type Result } from "../result.ts";
import { words } from "../schema/parts.ts";
import { readDocument } from "../schema/read-document.ts";
import type { DeepReadonly, SameShape } from "../schema/same-shape.ts";
import { isFinal } from "../sequence/states.ts";
import type { RunReview } from "./review-run.ts";

/**
 * A safety officer's word on a run that is over: who looked, at which state of the log, and what is to
 * follow. Beside the log, never in it: the log is the crew's, and whoever signs was not of the crew.
 */
export type SignOff = {
  readonly format: "fourfast-review";
  readonly version: 1;
  readonly run: string;
  readonly log: string;
  /** Digest of the last entry that was looked at. */
  readonly head: string;
  readonly by: string;
  /** Wall time, ms. */
  readonly at: number;
  readonly verdict: Verdict;
  /** Empty where nothing has to be said. */
  readonly note: string;
};

/** `nothing-to-do`: seen, and no more is asked. `follow-up`: the note says what. */
export const VERDICTS = ["nothing-to-do", "follow-up"] as const;
export type Verdict = (typeof VERDICTS)[number];

export type Signing = Pick<SignOff, "by" | "at" | "verdict" | "note">;

type ReviewedRun = {
  readonly code: string;
  readonly log: string;
  readonly entries: readonly Entry[];
  /** What is wrong with its chain: such a log says nothing that anybody could sign. */
  readonly faults: readonly Issue[];
};

const NOTE_CHARACTERS = 2000;
const CODE = /^[A-Za-z0-9]{1,8}$/;

/**
 * @param review  of this very run
 * @fails reviewer-unnamed, reviewer-in-crew, log-not-whole, run-not-over, note-missing, note-too-long: all that apply
 */
export function signOff(run: ReviewedRun, review: RunReview, signing: Signing): Result<SignOff> {
  const { by, at, verdict } = signing;
  const note = signing.note.trim();
  const red = review.findings.filter(({ weight }) => weight === "red").length;
  const issues: Issue[] = [];
  if (!CODE.test(by))
    issues.push(
      issue(
        "reviewer-unnamed",
        "by",
        by === "" ? "no code is entered" : `"${by}" is no code`,
        "Enter your own: letters and digits, at most 8.",
      ),
    );
  if (review.crew.some((person) => isSamePerson(person, by))) {
    const remedy = "Have somebody sign who had no part in this run.";
    issues.push(issue("reviewer-in-crew", "by", `${by} held a role in this run`, remedy));
  }
  if (run.faults.length > 0) {
    const detail = `its log is not whole: ${run.faults.length === 1 ? "one fault" : `${run.faults.length} faults`}`;
    issues.push(issue("log-not-whole", run.code, detail, "Bring the run in again from the phone."));
  }
  if (!isFinal(review.ended))
    issues.push(issue("run-not-over", run.code, "the run is open", "Sign it when it is closed or scrubbed."));
  if (note === "" && (verdict === "follow-up" || red > 0)) {
    const detail =
      verdict === "follow-up" ? "what is to follow is not said" : `${red} red findings, and no word`;
    issues.push(issue("note-missing", "note", detail, "Say what is to be done, or why nothing is."));
  }
  if (note.length > NOTE_CHARACTERS)
    issues.push(
      issue("note-too-long", "note", `it has ${note.length} characters`, `Use at most ${NOTE_CHARACTERS}.`),
    );
  const head = run.entries.at(-1)?.hash ?? "";
  return issues.length > 0
    ? failed(...issues)
    : ok({ format: "fourfast-review", version: 1, run: run.code, log: run.log, head, by, at, verdict, note });
}

const text = (most: number, what: string) =>
  v.pipe(v.string(), v.maxLength(most, `at most ${most} characters`), v.description(what));

const SignOffSchema = v.strictObject({
  format: v.literal("fourfast-review"),
  version: v.literal(1),
  run: words("the run's code", 60),
  log: text(200, "the run's log"),
  head: v.pipe(v.string(), v.regex(/^[0-9a-f]{64}$/, "a digest"), v.description("of the last entry seen")),
  by: v.pipe(v.string(), v.regex(CODE, "a code"), v.description("who signed")),
  at: v.pipe(v.number(), v.safeInteger("whole ms"), v.description("when, wall time in ms")),
  verdict: v.pipe(v.picklist(VERDICTS), v.description("what is to follow")),
  note: text(NOTE_CHARACTERS, "in words"),
});

const sameShape: SameShape<DeepReadonly<v.InferOutput<typeof SignOffSchema>>, SignOff> = true;
void sameShape;

/**
 * @param json  what JSON.parse gave
 * @fails the codes of readDocument
 */
export function parseSignOff(json: unknown): Result<SignOff> {
  const { value, issues } = readDocument(SignOffSchema, json);
  return value === undefined ? failed(...issues) : ok(value);
}

export const signOffText = (signed: SignOff): string => `${JSON.stringify(signed, undefined, 1)}\n`;
export const signOffName = ({ log, at }: Pick<SignOff, "log" | "at">): string => `review-${log}-${at}.json`;
