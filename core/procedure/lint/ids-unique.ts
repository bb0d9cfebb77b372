import { allSteps, type LintRule } from "./rule.ts";

export const idsUnique: LintRule = {
  id: "ids-unique",
  number: "L39",
  severity: "E",
  title: "No two steps have the same id",
  source: "derived: the log names steps by their id",
  deviation: "none",
  check: (procedure) => {
    const steps = allSteps(procedure);
    return steps.flatMap(({ step, where }, at) => {
      const first = steps.findIndex((other) => other.step.id === step.id);
      return first === at
        ? []
        : [
            {
              where: `${where}.id`,
              detail: `"${step.id}" is ${steps[first]?.where} already`,
              remedy: "Give each step its own id.",
            },
          ];
    });
  },
};
