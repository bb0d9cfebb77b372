import { expect, test } from "vitest";
import { closingLine, countVitest, tallyOf } from "./tally.ts";

const file = (...statuses: string[]) => ({
  status: statuses.includes("failed") || statuses.length === 0 ? "failed" : "passed",
  assertionResults: statuses.map((status) => ({ status })),
});
const report =
  (numPassedTests: number, numFailedTests: number, ...testResults: ReturnType<typeof file>[]) =>
  () =>
    JSON.stringify({ numPassedTests, numFailedTests, testResults });

test("counts what the report counts", () => {
  expect(countVitest(0, report(2, 0, file("passed", "passed")))).toEqual({ passed: 2, failed: 0 });
  expect(countVitest(1, report(1, 1, file("passed", "failed")))).toEqual({ passed: 1, failed: 1 });
});

test("a file that does not load is a failure beside those that were counted", () => {
  expect(countVitest(1, report(1, 0, file("passed"), file()))).toEqual({ passed: 1, failed: 1 });
  expect(countVitest(1, report(1, 1, file("passed", "failed"), file(), file()))).toEqual({
    passed: 1,
    failed: 3,
  });
});

test("an error outside every test is a failure", () => {
  expect(countVitest(1, report(1, 0, file("passed")))).toEqual({ passed: 1, failed: 1 });
});

test("a run without a report is a failure whatever it says of itself", () => {
  const gone = () => {
    throw new Error("no such file");
  };
  expect(countVitest(0, gone)).toEqual({ passed: 0, failed: 1 });
});

test("closes with one plain line", () => {
  expect(closingLine(tallyOf(0))).toBe("1 passed, 0 failed");
  expect(closingLine(tallyOf(2))).toBe("0 passed, 1 failed");
});
