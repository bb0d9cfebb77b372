import { FACTS, GATES } from "../../sequence/facts.ts";
import { PHASES } from "../procedure.ts";
import { type LintRule, provers } from "./rule.ts";

export const factsProved: LintRule = {
  id: "facts-proved",
  number: "L36",
  severity: "E",
  title: "Every fact that a gate needs is proved by exactly one step of each of its home phases",
  source: "derived: a gate whose fact no step proves can never be passed",
  deviation: "none",
  check: (procedure, rig) =>
    FACTS.filter(
      ({ onlyFor, needs }) =>
        needs.some(({ gate }) => GATES.includes(gate)) &&
        (onlyFor === undefined || onlyFor === rig?.emptying.kind),
    ).flatMap((row) =>
      PHASES.filter((phase) => row.home.includes(phase)).flatMap((phase) => {
        const found = provers(procedure, row.id, phase);
        if (found.length === 1) return [];
        const gates = row.needs.map(({ gate }) => gate).join(", ");
        return found.length === 0
          ? [
              {
                where: `phases.${phase}`,
                detail: `no step proves "${row.id}" (${row.words}), which ${gates} needs`,
                remedy: `Add a step that proves it: ${row.remedy}`,
              },
            ]
          : found.slice(1).map(({ where }) => ({
              where: `${where}.proves`,
              detail: `"${row.id}" is proved in ${found[0]?.where} already`,
              remedy: "Let one step prove it; leave the other without.",
            }));
      }),
    ),
};
