import { existsSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { HAZARDS } from "../../core/procedure/hazards.ts";
import { LINT_RULES } from "../../core/procedure/lint/rules.ts";
import { FACTS } from "../../core/sequence/facts.ts";
import { RULES } from "../../core/sequence/rules.ts";
import { HAZARD_ANSWERS } from "./hazard-answers.ts";
import { committed, rootUrl } from "./page.ts";
import { printedPages } from "./pages.ts";

describe("what docs/ prints from the code", () => {
  it.each(printedPages().map((page) => [page.path, page] as const))("is current: %s", (path, { text }) => {
    expect(committed(path) === text, `${path} has drifted: npm run print`).toBe(true);
  });
});

describe("each hazard", () => {
  const ids = HAZARDS.map(({ id }) => id);
  const ruleIds = new Set(RULES.map(({ id }) => id));
  const lintIds = new Set(LINT_RULES.map(({ id }) => id));

  it("is answered, and nothing answers a hazard that is not there", () => {
    expect(Object.keys(HAZARD_ANSWERS)).toEqual(ids);
    const named = FACTS.flatMap(({ hazards }) => hazards);
    expect(named.filter((id) => !ids.includes(id))).toEqual([]);
  });

  it.each(ids)("%s has something in the sequence, the linter or on the screen, and a test", (id) => {
    const { rules = [], lint = [], screens = [], tests = [] } = HAZARD_ANSWERS[id] ?? { tests: [] };
    const facts = FACTS.filter(({ hazards }) => hazards.includes(id));
    expect(rules.length + lint.length + screens.length + facts.length).toBeGreaterThan(0);
    expect(tests.length).toBeGreaterThan(0);
    expect(rules.filter((rule) => !ruleIds.has(rule))).toEqual([]);
    expect(lint.filter((rule) => !lintIds.has(rule))).toEqual([]);
    expect([...screens, ...tests].filter((path) => !existsSync(new URL(path, rootUrl)))).toEqual([]);
  });
});
