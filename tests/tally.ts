export interface Tally {
  passed: number;
  failed: number;
}

export const closingLine = ({ passed, failed }: Tally): string => `${passed} passed, ${failed} failed`;

export const tallyOf = (exitCode: number): Tally =>
  exitCode === 0 ? { passed: 1, failed: 0 } : { passed: 0, failed: 1 };

/** A file that does not even load has no tests to count, and a run that dies has no report: both are a failure. */
export function countVitest(exitCode: number, readReport: () => string): Tally {
  let passed = 0;
  let failed = 0;
  try {
    const report: { numPassedTests: number; numFailedTests: number } = JSON.parse(readReport());
    passed = report.numPassedTests;
    failed = report.numFailedTests;
  } catch {
    return { passed: 0, failed: 1 };
  }
  return { passed, failed: exitCode !== 0 && failed === 0 ? 1 : failed };
}
