import { readdirSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { SHIPPED } from "../../../../app/demo/documents.ts";
import { LINT_RULES, THEOREMS } from "../../../../core/procedure/lint/rules.ts";
import { heronDraft, kingfisherDraft } from "./break.ts";
import { answersCases } from "./cases/answers.ts";
import { orderCases } from "./cases/order.ts";
import { peopleCases } from "./cases/people.ts";
import { pressureCases } from "./cases/pressure.ts";
import { restraintsCases } from "./cases/restraints.ts";
import { wordingCases } from "./cases/wording.ts";

const CASES = [
  ...restraintsCases,
  ...answersCases,
  ...pressureCases,
  ...orderCases,
  ...peopleCases,
  ...wordingCases,
];

const whereFound = (id: string, change: (draft: ReturnType<typeof heronDraft>) => void, vent = false) => {
  const draft = vent ? kingfisherDraft() : heronDraft();
  change(draft);
  const rule = LINT_RULES.find((candidate) => candidate.id === id);
  return rule?.check(draft.procedure, draft.rig) ?? [];
};

describe.each(LINT_RULES.map((rule) => [rule.id, rule] as const))("the rule %s", (id, rule) => {
  it("finds nothing in a shipped procedure", () => {
    for (const { procedure, rig } of SHIPPED) expect(rule.check(procedure, rig)).toEqual([]);
  });

  it("has an example that fails", () => {
    expect(CASES.filter(({ fails }) => fails === id)).not.toEqual([]);
  });
});

describe("each example of a fault", () => {
  it.each(CASES)("$fails: $because", ({ fails, change, at, vent }) => {
    const found = whereFound(fails, change, vent);
    expect(found.map(({ where }) => where)).toEqual(at);
    for (const { detail, remedy } of found) {
      expect(detail.length).toBeGreaterThan(5);
      expect(remedy).toMatch(/^[A-Z0-9“].*\.$/);
    }
  });
});

describe("the list of rules", () => {
  it("holds every file of its folder but the ones that are no rule", () => {
    const files = readdirSync(new URL("../../../../core/procedure/lint", import.meta.url))
      .map((file) => file.replace(/\.ts$/, ""))
      .filter((file) => !NO_RULES.includes(file));
    expect(LINT_RULES.map(({ id }) => id).sort()).toEqual(files.sort());
  });

  it("gives each rule an id of its own and a source", () => {
    const ids = LINT_RULES.map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
    for (const { source } of LINT_RULES)
      expect(source).toMatch(/\((?:read|quoted|remembered|derived)[^)]*\)|derived/);
  });

  it("leaves no number of the good-practice list out: a rule or a theorem keeps each of L1 to L35", () => {
    const kept = new Set([...LINT_RULES, ...THEOREMS].flatMap(({ number }) => number.split(", ")));
    const all = Array.from({ length: 35 }, (_, at) => `L${at + 1}`);
    expect(all.filter((number) => !kept.has(number))).toEqual([]);
  });
});

const NO_RULES = [
  "rule",
  "rules",
  "words",
  "deviations",
  "lint-procedure",
  "lint-document",
  "readable-part",
  "can-start",
];
