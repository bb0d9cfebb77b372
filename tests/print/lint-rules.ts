import { LINT_RULES, THEOREMS } from "../../core/procedure/lint/rules.ts";
import { code, table } from "./page.ts";

const SEVERITY = { E: "error", W: "warning", N: "note" } as const;

export const lintRuleTable = (): string =>
  table(
    ["no.", "rule", "severity", "says", "source", "deviation"],
    LINT_RULES.map(({ number, id, severity, title, source, deviation }) => [
      number,
      code(id),
      SEVERITY[severity],
      title,
      source,
      deviation,
    ]),
  );

export const theoremTable = (): string =>
  table(
    ["no.", "says", "kept by"],
    THEOREMS.map(({ number, title, keptBy }) => [number, title, keptBy]),
  );
