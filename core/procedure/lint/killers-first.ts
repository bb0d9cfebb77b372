import type { FactId } from "../../sequence/facts.ts";
import type { PhaseId } from "../procedure.ts";
import { type LintRule, provers } from "./rule.ts";

/**
 * What kills if it is forgotten, where the phase leaves a choice of place. Clear is last on purpose
 * (it goes stale), full pressure ends its phase, and second looks can only follow the pull.
 */
const KILLERS: readonly { readonly fact: FactId; readonly phase: PhaseId }[] = [
  { fact: "first-look", phase: "restraining" },
  { fact: "supply-in-band", phase: "clearing" },
  { fact: "supply-isolated", phase: "charged" },
  { fact: "supply-isolated", phase: "making-safe" },
];

export const killersFirst: LintRule = {
  id: "killers-first",
  number: "L26",
  severity: "W",
  title: "What kills if it is forgotten stands in the first two places of its list",
  source: "NASA CR-177549 App. A (10) (quoted)",
  deviation: "may be accepted",
  check: (procedure) =>
    KILLERS.flatMap(({ fact, phase }) =>
      provers(procedure, fact, phase)
        .filter(({ index }) => index > 1)
        .map(({ where, index }) => ({
          where,
          detail: `"${fact}" is step ${index + 1} of its phase`,
          remedy: "Move it to the first or second place.",
        })),
    ),
};
