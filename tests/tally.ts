export interface Tally {
  passed: number;
  failed: number;
}

export const closingLine = ({ passed, failed }: Tally): string => `${passed} passed, ${failed} failed`;

export const tallyOf = (exitCode: number): Tally =>
  exitCode === 0 ? { passed: 1, failed: 0 } : { passed: 0, failed: 1 };

/** What vitest's JSON report says, as far as it is counted here. */
interface Report {
  numPassedTests: number;
  numFailedTests: number;
  testResults: { status: string; assertionResults: { status: string }[] }[];
}

/**
 * A file that does not even load has no tests to count, an error between tests belongs to none, and a run that
 * dies leaves no report: each is a failure all the same.
 */
export function countVitest(exitCode: number, readReport: () => string): Tally {
  let report: Report;
  try {
    report = JSON.parse(readReport());
  } catch {
    return { passed: 0, failed: 1 };
  }
  const unloaded = report.testResults.filter(
    ({ status, assertionResults }) =>
      status === "failed" && !assertionResults.some((one) => one.status === "failed"),
  );
  const failed = report.numFailedTests + unloaded.length;
  return { passed: report.numPassedTests, failed: exitCode !== 0 && failed === 0 ? 1 : failed };
}
