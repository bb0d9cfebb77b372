import { fc, test } from "@fast-check/vitest";
import { describe, expect } from "vitest";
import { advance, createSequence, permitted } from "../../core/sequence/advance.ts";
import { isFinal } from "../../core/sequence/states.ts";
import { type Act, isReport } from "../../core/sequence/vocabulary.ts";
import { proofDocuments } from "../model/proof-documents.ts";
import { type Heard, randomRuns } from "../model/random-run.ts";

/** What holds of the fold itself, whatever is said in whatever order, on shipped and on generated procedures. */

const EVENTS = 500;

const frozen = <T>(value: T): T => {
  if (typeof value !== "object" || value === null || Object.isFrozen(value)) return value;
  for (const inside of Object.values(value)) frozen(inside);
  return Object.freeze(value);
};

/** Each act of some random runs, with the sequence and the snapshot that it was said to. */
const actsOf = (seed: number) => {
  const documents = proofDocuments(seed, 2);
  const heard: Heard[] = [];
  randomRuns({ documents, seed, events: EVENTS, heard: (one) => heard.push(one) });
  const sequences = new Map(documents.map((one) => [one.procedure, createSequence(one.rig, one.procedure)]));
  const snapshots = new Map<number, ReturnType<typeof createSequence>["initial"]>();
  return heard.map(({ id, before, documents: { procedure }, act }) => {
    const sequence = sequences.get(procedure);
    if (!sequence) throw new Error("a run on documents of its own");
    const snapshot = snapshots.get(before) ?? sequence.initial;
    const result = advance(sequence, snapshot, act);
    snapshots.set(id, result.ok ? result.value : snapshot);
    return { sequence, snapshot, act, result };
  });
};

const seeds = fc.integer({ min: 1, max: 1_000_000 });

describe("whatever is said to the sequence", () => {
  test.prop([seeds], { numRuns: 4 })(
    "the same act on the same snapshot gives the same result, and changes neither",
    (seed) => {
      for (const { sequence, snapshot, act, result } of actsOf(seed))
        expect(advance(sequence, frozen(snapshot), frozen(act))).toEqual(result);
    },
  );

  test.prop([seeds], { numRuns: 4 })("a report is never refused", (seed) => {
    const acts = actsOf(seed);
    const refused = acts.filter(({ result, act }) => !result.ok && isReport(act.event.type));
    expect(refused.map(({ act, snapshot }) => `${act.event.type} in ${snapshot.state}`)).toEqual([]);
    expect(acts.filter(({ act }) => isReport(act.event.type)).length).toBeGreaterThan(50);
  });

  test.prop([seeds], { numRuns: 4 })("a refusal says what is missing, each once, with what to do", (seed) => {
    const refusals = actsOf(seed).flatMap(({ result }) => (result.ok ? [] : [result.issues]));
    expect(refusals.length).toBeGreaterThan(20);
    for (const issues of refusals) {
      expect(issues.length).toBeGreaterThan(0);
      for (const { detail, remedy } of issues) expect(detail !== "" && remedy !== "").toBe(true);
      expect(new Set(issues.map(({ code, where, detail }) => `${code} ${where} ${detail}`)).size).toBe(
        issues.length,
      );
    }
  });

  test.prop([seeds], { numRuns: 4 })("a snapshot that went through JSON goes on as it would have", (seed) => {
    for (const { sequence, snapshot, act, result } of actsOf(seed))
      expect(advance(sequence, JSON.parse(JSON.stringify(snapshot)), act)).toEqual(result);
  });

  test.prop([seeds], { numRuns: 4 })(
    "what is shown as open is given to whom it is open, and what is shut is not",
    (seed) => {
      for (const { sequence, snapshot, act } of actsOf(seed)) {
        if (isFinal(snapshot.state)) continue;
        for (const { type, missing } of permitted(sequence, snapshot, act)) {
          const said = advance(sequence, snapshot, { ...act, event: { type } } as Act);
          expect([type, said.ok]).toEqual([type, missing.length === 0]);
        }
      }
    },
  );
});
