import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import { predictionBudget } from "../../core/propulsion/prediction-budget.ts";
import { combine } from "../../core/uncertainty/budget.ts";
import { nominal, setupOf } from "./prediction-cases.ts";

/** The tables of docs/uncertainty.md, read and recomputed: a document that examiners trust must add up. */
const text = readFileSync(new URL("../../docs/uncertainty.md", import.meta.url), "utf8");

const section = (heading: string) => {
  const [, after = ""] = text.split(`\n## ${heading}\n`);
  return after.split("\n## ")[0]!;
};
const rowsOf = (part: string) =>
  part
    .split("\n")
    .filter((line) => line.startsWith("| "))
    .map((line) =>
      line
        .split("|")
        .slice(1, -1)
        .map((cell) => cell.trim()),
    );
const numberOf = (cell: string) =>
  cell === "∞" ? Number.POSITIVE_INFINITY : Number.parseFloat(cell.replace("−", "-"));

describe("the worked example of docs/uncertainty.md", () => {
  const rows = rowsOf(section("A worked example")).filter((row) => Number.isFinite(numberOf(row[1]!)));
  const lines = rows
    .filter((row) => row.length === 3)
    .map(([source, u, freedom]) => ({ source: source!, u: numberOf(u!), freedom: numberOf(freedom!) }));
  const place = (name: string) => lines.findIndex(({ source }) => source === name);
  const correlations = rows
    .filter((row) => row.length === 2)
    .map(([pair, r]) => {
      const [first, second] = pair!.split(", ").map(place) as [number, number];
      return { first, second, r: numberOf(r!) };
    });

  test("has its ten lines and six correlations, all between lines of the table", () => {
    expect(lines).toHaveLength(10);
    expect(correlations).toHaveLength(6);
    for (const { first, second } of correlations) expect(Math.min(first, second)).toBeGreaterThanOrEqual(0);
  });

  test("combines to what the text says, without the calibration and with it", () => {
    const without = combine(
      lines.filter(({ source }) => source !== "calibration"),
      correlations,
    );
    expect(without.u).toBeCloseTo(6.61, 2);
    expect(without.freedom).toBe(72);
    expect(without.k95).toBeCloseTo(1.993, 3);
    const all = combine(lines, correlations);
    expect(all.u).toBeCloseTo(115.7, 1);
    expect(all.freedom).toBe(Number.POSITIVE_INFINITY);
    expect(Math.round(all.expanded)).toBe(227);
  });
});

test("the table of the predicted impulse is what the budget gives, in all its digits", () => {
  const budget = predictionBudget(setupOf({ ...nominal, polytropicExponent: 1.25 }));
  const rows = rowsOf(section("The predicted impulse")).filter((row) => row[0]!.startsWith("`"));
  expect(rows.map((row) => row[0])).toEqual(budget.rows.map(({ quantity }) => `\`${quantity}\``));
  for (const [i, { u, sensitivity, contribution_Ns }] of budget.rows.entries()) {
    const [, u_written, sensitivity_written, share_written] = rows[i]!.map(numberOf) as number[];
    expect(u_written).toBe(u);
    expect(Math.abs(sensitivity_written! / sensitivity - 1)).toBeLessThan(1e-3);
    expect(Math.abs(share_written! - (100 * contribution_Ns) / budget.impulse_Ns)).toBeLessThan(6e-4);
  }
  expect(budget.impulse_Ns).toBeCloseTo(12.813, 3);
  expect(budget.u_impulse_Ns).toBeCloseTo(0.263, 3);
});
