import { isSamePerson } from "../same-person.ts";
import type { LintRule } from "./rule.ts";

export const signed: LintRule = {
  id: "signed",
  number: "L35",
  severity: "E",
  title: "A procedure is approved by somebody who did not write it",
  source: "21 CFR 11.10 (read)",
  deviation: "none",
  check: (procedure) =>
    procedure.approvedBy !== undefined && isSamePerson(procedure.approvedBy, procedure.author)
      ? [
          {
            where: "approvedBy",
            detail: `"${procedure.author}" wrote it and approved it`,
            remedy: "Somebody else approves it.",
          },
        ]
      : [],
};
