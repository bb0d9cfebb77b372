import { describe, expect, it } from "vitest";
import heron from "../../../app/demo/procedure-heron.json";
import kingfisher from "../../../app/demo/procedure-kingfisher.json";
import { parseProcedure } from "../../../core/procedure/parse-procedure.ts";

// biome-ignore lint/suspicious/noExplicitAny: the point is to break the document in every way
type Json = any;

const issuesOf = (change: (procedure: Json) => void): readonly string[] => {
  const copy = structuredClone(heron) as Json;
  change(copy);
  const result = parseProcedure(copy);
  return result.ok ? [] : result.issues.map(({ code, where }) => `${code} at ${where}`);
};

describe("parseProcedure", () => {
  it.each([heron, kingfisher])("reads a shipped procedure to the letter: $title", (procedure) => {
    expect(parseProcedure(procedure)).toEqual({ ok: true, value: procedure });
  });

  it.each<[string, (procedure: Json) => void, readonly string[]]>([
    [
      "an unknown field in a step",
      (p) => (p.phases.filling[0].colour = 1),
      ["key-unknown at phases.filling[0].colour"],
    ],
    ["an unknown phase", (p) => (p.phases.launching = []), ["key-unknown at phases.launching"]],
    ["an edge of its own", (p) => (p.edges = []), ["key-unknown at edges"]],
    ["a missing phase", (p) => delete p.phases["making-safe"], ["key-missing at phases.making-safe"]],
    [
      "an unknown fact",
      (p) => (p.phases.filling[0].proves = ["wet"]),
      ["value-unknown at phases.filling[0].proves[0]"],
    ],
    [
      "an unknown form",
      (p) => (p.phases.filling[0].form = { kind: "guess" }),
      ["value-unknown at phases.filling[0].form.kind"],
    ],
    [
      "an unknown role",
      (p) => (p.phases.filling[0].role = "boss"),
      ["value-unknown at phases.filling[0].role"],
    ],
    [
      "one answer only",
      (p) => p.phases.preparing[0].form.answers.splice(1),
      ["out-of-range at phases.preparing[0].form.answers"],
    ],
    [
      "a hold that is only true",
      (p) => (p.phases.filling[0].hold = true),
      ["wrong-type at phases.filling[0].hold"],
    ],
    [
      "a warning without a way out",
      (p) => delete p.phases.restraining[1].warning.avoid,
      ["key-missing at phases.restraining[1].warning.avoid"],
    ],
    [
      "a time limit without its miss",
      (p) => delete p.phases.armed[0].timeLimit.ifMissed,
      ["key-missing at phases.armed[0].timeLimit.ifMissed"],
    ],
    [
      "a deviation without an end",
      (p) => (p.deviations = [{ rule: "one-act", where: "phases.filling[0]", why: "so", acceptedBy: "R1" }]),
      ["key-missing at deviations[0].until"],
    ],
    [
      "a deviation until some day",
      (p) =>
        (p.deviations = [
          { rule: "one-act", where: "phases.filling[0]", why: "so", acceptedBy: "R1", until: "soon" },
        ]),
      ["out-of-range at deviations[0].until"],
    ],
    ["a newer version", (p) => (p.version = 9), ["version-newer at version"]],
    ["half a revision", (p) => (p.revision = 1.5), ["out-of-range at revision"]],
  ])("refuses %s, and says where", (_what, change, issues) => {
    expect(issuesOf(change)).toEqual(issues);
  });

  it("lists everything at once", () => {
    const issues = issuesOf((p) => {
      for (const phase of Object.values(p.phases) as Json[]) phase[0].colour = "red";
      for (const phase of Object.values(p.phases) as Json[]) delete phase[0].text;
    });
    expect(issues).toHaveLength(2 * Object.keys(heron.phases).length);
  });
});
