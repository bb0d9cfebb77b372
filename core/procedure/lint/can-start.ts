import { failed, type Issue, issue, ok, type Result } from "../../result.ts";
import type { Rig } from "../../rig/rig.ts";
import type { Procedure } from "../procedure.ts";
import { lintProcedure } from "./lint-procedure.ts";

const wornParts = ({ parts }: Rig): readonly Issue[] =>
  parts.flatMap(({ name, count, limit }, at) =>
    count < limit
      ? []
      : [
          issue(
            "part-worn",
            `the rig, parts[${at}]`,
            `${name}: ${count} uses of ${limit} allowed`,
            "Change the part; enter the new one with its own count.",
          ),
        ],
  );

const outOfService = ({ service }: Rig): readonly Issue[] =>
  service.in
    ? []
    : [
        issue(
          "rig-out-of-service",
          "the rig, service",
          `tagged: ${service.tag}`,
          "Call staff; the tag says why.",
        ),
      ];

const notApproved = ({ approvedBy }: Procedure): readonly Issue[] =>
  approvedBy !== undefined
    ? []
    : [
        issue(
          "not-approved",
          "approvedBy",
          "nobody has approved this procedure",
          "Somebody other than its author approves it.",
        ),
      ];

/**
 * Whether a run may be opened on this rig by this procedure. Warnings do not stop it: the one who
 * approved the procedure accepted them.
 * @param today  ISO date, against which deviations lapse; without it none counts
 * @fails every error of the linter, not-approved, rig-out-of-service, part-worn
 */
export const canStart = (procedure: Procedure, rig: Rig, today?: string): Result<void> => {
  const issues = [
    ...lintProcedure(procedure, rig, today).errors,
    ...notApproved(procedure),
    ...outOfService(rig),
    ...wornParts(rig),
  ];
  return issues.length > 0 ? failed(...issues) : ok(undefined);
};
