import { describe, expect, test } from "vitest";
import { emittedCodes, issueCodeFindings } from "./issue-codes.ts";

/** A page that lists two codes, and files that give some. */
const page = {
  path: "docs/formats.md",
  text: "## Setup\n\n| `not-a-code` | key |\n\n## Issue codes\n\n### One\n\n| `known` | means | do |\n| `other-known` | means | do |\n",
};
const house = (text: string, path = "core/force/a.ts") => [{ path, text }];
const codes = (text: string) => emittedCodes(house(text)).codes.map(({ code }) => code);
const unread = (text: string) => emittedCodes(house(text)).unread.length;

describe("an issue's code", () => {
  const both = 'issue("known", "w", "d", "r"); issue("other-known", "w", "d", "r");';

  test("that formats.md does not list is found where it is given", () => {
    const text = `${both}\nconst late = () => issue("brand-new", "w", "d", "r");`;
    const found = issueCodeFindings(house(text), page);
    expect(found.map(({ path, line }) => `${path}:${line}`)).toEqual(["core/force/a.ts:2"]);
    expect(found[0]?.what).toContain("brand-new is not in docs/formats.md");
  });

  test("that nothing gives any more is found where it is listed", () => {
    const found = issueCodeFindings(house('issue("known", "w", "d", "r");'), page);
    expect(found).toEqual([
      { path: "docs/formats.md", line: 10, what: "nothing gives the code other-known: take it out" },
    ]);
  });

  test("is fine where it is given and listed", () => {
    expect(issueCodeFindings(house(both), page)).toEqual([]);
  });

  test("in a test is nobody's", () => {
    expect(
      issueCodeFindings([...house(both), ...house('issue("x", "", "", "");', "tests/a.test.ts")], page),
    ).toEqual([]);
  });

  test.each([
    ["written out", 'issue("a", w, d, r);', ["a"]],
    ["chosen between", 'issue(n > 1 ? "a" : "b", w, d, r);', ["a", "b"]],
    ["kept in a constant", 'const code = wrong ? "a" : "b"; issue(code, w, d, r);', ["a", "b"]],
    [
      "in the nearest constant of its name",
      'const code = "far"; function f() { const code = "near"; return issue(code, w, d, r); }',
      ["near"],
    ],
    [
      "handed to a function",
      'function f() { const add = (code: string, d: string) => found.push(issue(code, w, d, r)); add("a", d); add("b", d); }',
      ["a", "b"],
    ],
    [
      "taken from a table of lists",
      'const why = { X: ["a", "d"], Y: ["b", "d"] }; const [code, d] = why[name] ?? ["c", "d"]; issue(code, w, d, r);',
      ["a", "b", "c"],
    ],
    [
      "of an issue written as an object",
      'const found = { code: "a", where, detail: "d", remedy: "r" };',
      ["a"],
    ],
    ["put over another issue's", 'const turned = { ...found, code: "a" };', ["a"]],
  ])("is read where it is %s", (_how, text, given) => {
    expect([codes(text), unread(text)]).toEqual([given, 0]);
  });

  test.each([
    ["put together", "issue('run-' + n, w, d, r);"],
    ["that a caller elsewhere hands in", "export const f = (code: string) => issue(code, w, d, r);"],
    ["that nobody hands in", "const f = (code: string) => issue(code, w, d, r);"],
    ["taken from somewhere", "issue(table.code, w, d, r);"],
    ["of `issue` under another name", 'import { issue as fault } from "../result.ts";'],
  ])("%s cannot be read, and that is a finding", (_how, text) => {
    expect(unread(text)).toBe(1);
  });

  test("is not looked for in what is no issue", () => {
    expect(
      codes('const item = { code: "battery", verdict: "ready" }; const run = { ...kept, code: "H-1", log };'),
    ).toEqual([]);
  });
});

test("the ids of a table's rows are codes where the table is handed over", () => {
  const rows = 'const RULES = [{ id: "a", words: "w" }, { id: "b", words: "w" }]; const step = { id: "no" };';
  const given = emittedCodes([
    { path: "core/sequence/rules.ts", text: rows },
    { path: "core/sequence/missing.ts", text: "issue(rule.id, w, d, r);" },
  ]);
  expect([given.codes.map(({ code }) => code), given.unread]).toEqual([["a", "b"], []]);
});
