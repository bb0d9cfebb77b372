import { allSteps, type Finding, type LintRule, stepsIn } from "./rule.ts";

const MISSING: Omit<Finding, "where"> = {
  detail: "the last step before the zero does not say what the window is",
  remedy: "Give it a timeLimit: note, startsAt, limit_s, ifMissed, tries.",
};

export const timedStepsComplete: LintRule = {
  id: "timed-steps-complete",
  number: "L17",
  severity: "E",
  title: "A step with a limit in time says so before, and says what is done when it is missed",
  source: "DOE-STD-1029-92 §4 (read)",
  deviation: "may be accepted",
  check: (procedure, rig) => {
    const last = stepsIn(procedure, "armed").at(-1);
    const findings: Finding[] =
      last && last.step.timeLimit === undefined ? [{ where: `${last.where}.timeLimit`, ...MISSING }] : [];
    if (!rig) return findings;
    const { zeroToRelease_s, zeros } = rig.limits;
    for (const { step, where, phase } of allSteps(procedure)) {
      if (phase !== "armed" || !step.timeLimit) continue;
      if (step.timeLimit.limit_s > zeroToRelease_s)
        findings.push({
          where: `${where}.timeLimit.limit_s`,
          detail: `${step.timeLimit.limit_s} s is longer than the rig's window of ${zeroToRelease_s} s`,
          remedy: "Write the rig's, or less.",
        });
      if (step.timeLimit.tries > zeros)
        findings.push({
          where: `${where}.timeLimit.tries`,
          detail: `${step.timeLimit.tries} tries; the rig allows ${zeros} zeros`,
          remedy: "Write the rig's, or fewer.",
        });
    }
    return findings;
  },
};
