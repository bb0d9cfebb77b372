import { allSteps, type Finding, type LintRule } from "./rule.ts";

export const rolesInPlace: LintRule = {
  id: "roles-in-place",
  number: "L29",
  severity: "E",
  title:
    "Every role is where its step is: the caller indoors and nobody else there, the releaser at the line once charged",
  source: "DOE-EM-STD-5505-96 §6.10 (read) for roles that differ; the places are derived",
  deviation: "may be accepted",
  check: (procedure) =>
    allSteps(procedure).flatMap(({ step: { role, place }, phase, where }): readonly Finding[] => {
      if ((role === "caller") !== (place === "indoors"))
        return [
          {
            where: `${where}.place`,
            detail: `the ${role} at the place "${place}"`,
            remedy: "Indoors is the caller's place, and only the caller's.",
          },
        ];
      const charged = phase === "charged" || phase === "armed";
      return charged && role === "releaser" && place !== "line"
        ? [
            {
              where: `${where}.place`,
              detail: `the releaser at the place "${place}" while ${phase}`,
              remedy: "The releaser's place is at the line, out of the slide's way.",
            },
          ]
        : [];
    }),
};
