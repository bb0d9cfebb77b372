import { expect, test } from "vitest";
import { closingLine, countVitest, tallyOf } from "./tally.ts";

const report = (numPassedTests: number, numFailedTests: number) => () =>
  JSON.stringify({ numPassedTests, numFailedTests });

test("counts what the report counts", () => {
  expect(countVitest(0, report(12, 0))).toEqual({ passed: 12, failed: 0 });
  expect(countVitest(1, report(11, 1))).toEqual({ passed: 11, failed: 1 });
});

test("a file that does not load is a failure although no test failed", () => {
  expect(countVitest(1, report(11, 0))).toEqual({ passed: 11, failed: 1 });
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
