import { describe, expect, it } from "vitest";
import { HERON, KINGFISHER } from "../../../app/demo/documents.ts";
import { eventWords, factKeysInWords, kindOf, kindsOf, withRun } from "../../../app/widgets/log-words.ts";
import { LoggedWalk } from "../../core/review/logged-walk.ts";

it("says a whole nominal run in words, without a code name of ours or a hole in the sentence", () => {
  const walk = new LoggedWalk().to("closed") as LoggedWalk;
  for (const { event } of walk.entries) {
    const words = eventWords(event, HERON);
    expect(words, JSON.stringify(event)).toMatch(/^[A-Z0-9]/);
    expect(words).not.toMatch(/undefined|\[object|-called|-done/);
  }
});

it("never shows a personal code: on the screen it would no longer prove anybody", () => {
  const signedOn = { type: "signed-on", person: "MA3", role: "verifier" } as const;
  expect(eventWords(signedOn, HERON)).toBe("Verifier signed on");
  expect(eventWords({ type: "handed-over", to: "MA3" }, HERON)).not.toContain("MA3");
});

it("names each fact once, with the marks of its restraints", () => {
  expect(factKeysInWords(["second-look:B", "pull-tested", "second-look:A"], HERON.rig)).toBe(
    "second look A, B; pull test",
  );
});

describe("the restraints' own name", () => {
  it.each([
    [HERON.rig, "latch", "latches"],
    [KINGFISHER.rig, "bolt", "bolts"],
  ])("is the last word of their kind", (rig, one, many) => {
    expect([kindOf(rig), kindsOf(rig)]).toEqual([one, many]);
  });
});

it("puts the run's code wherever a procedure says {run}", () => {
  expect(withRun("Run {run}. Was {run} saved?", "H-329-01")).toBe("Run H-329-01. Was H-329-01 saved?");
});
