import type { Step } from "../procedure.ts";
import { allSteps, type Finding, type LintRule, stepsIn } from "./rule.ts";

const isRound = (step: Step, round: 1 | 2): boolean =>
  step.form.kind === "each-restraint" && step.form.round === round;

const ORDER: readonly { readonly what: string; readonly is: (step: Step) => boolean }[] = [
  { what: "each-restraint, round 1", is: (step) => isRound(step, 1) },
  { what: "the pull test", is: (step) => step.proves.includes("pull-tested") },
  { what: "each-restraint, round 2", is: (step) => isRound(step, 2) },
];

export const restraintRounds: LintRule = {
  id: "restraint-rounds",
  number: "L2, L3",
  severity: "E",
  title: "First looks by the installer, then a measured pull, then second looks by the verifier",
  source: "DOE-STD-1036-93 (read); Westbrook, BMJ Qual Saf 30(4):320 (read): a primed check adds nothing",
  deviation: "none",
  check: (procedure) => {
    const steps = stepsIn(procedure, "restraining");
    const at = ORDER.map(({ is }) => steps.findIndex(({ step }) => is(step)));
    const findings: Finding[] = [];
    for (const [position, { what }] of ORDER.entries()) {
      const here = at[position] ?? -1;
      const before = at[position - 1] ?? -1;
      const where = here < 0 ? "phases.restraining" : `phases.restraining[${here}]`;
      if (here < 0)
        findings.push({ where, detail: `${what} is missing`, remedy: "Add it: round 1, pull, round 2." });
      else if (here < before)
        findings.push({
          where,
          detail: `${what} comes before ${ORDER[position - 1]?.what}`,
          remedy: "Put them in this order: round 1, pull, round 2.",
        });
    }
    for (const { step, where, phase } of allSteps(procedure)) {
      const { form, role } = step;
      if (form.kind === "each-restraint") {
        const wanted = form.round === 1 ? "installer" : "verifier";
        if (role !== wanted)
          findings.push({
            where: `${where}.role`,
            detail: `round ${form.round} is the ${role}'s`,
            remedy: `It is the ${wanted}'s.`,
          });
        if (phase !== "restraining")
          findings.push({
            where,
            detail: `restraints are looked at while ${phase}`,
            remedy: "Move it to restraining.",
          });
      }
      if (step.proves.includes("pull-tested") && !(form.kind === "measure" && form.quantity === "force"))
        findings.push({
          where: `${where}.form`,
          detail: "the pull test records no force",
          remedy: 'Use the form "measure" with the quantity "force".',
        });
    }
    return findings;
  },
};
