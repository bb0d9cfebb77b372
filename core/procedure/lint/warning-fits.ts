import type { SignalWord, StepWarning } from "../procedure.ts";
import { allSteps, type LintRule } from "./rule.ts";

/** Signal words by what can happen: DANGER will, WARNING could injure seriously; CAUTION less; NOTICE none. */
const FITS: { readonly [S in StepWarning["severity"]]: readonly SignalWord[] } = {
  5: ["DANGER", "WARNING"],
  4: ["WARNING"],
  3: ["CAUTION"],
  2: ["NOTICE"],
  1: ["NOTICE"],
};

export const warningFits: LintRule = {
  id: "warning-fits",
  number: "L21",
  severity: "E",
  title: "A warning's signal word fits its severity; hazard, result and avoidance each say something",
  source: "ANSI Z535.4 §4.14 (read); “Applying Human Factors to Procedure Writing”, part C (read)",
  deviation: "may be accepted",
  check: (procedure) =>
    allSteps(procedure).flatMap(({ step: { warning }, where }) => {
      if (!warning) return [];
      const { signal, severity, hazard, result, avoid } = warning;
      const wanted = FITS[severity];
      return [
        ...(wanted.includes(signal)
          ? []
          : [
              {
                where: `${where}.warning.signal`,
                detail: `${signal} with severity ${severity}`,
                remedy: `Write ${wanted.join(" or ")}, or correct the severity.`,
              },
            ]),
        ...(new Set([hazard, result, avoid].map((text) => text.trim().toLowerCase())).size === 3
          ? []
          : [
              {
                where: `${where}.warning`,
                detail: "hazard, result and avoidance repeat one another",
                remedy: "Say what is dangerous, what it does to you, and how to keep from it.",
              },
            ]),
      ];
    }),
};
