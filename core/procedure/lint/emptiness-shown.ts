import type { Gauge, Rig } from "../../rig/rig.ts";
import type { FactId } from "../../sequence/facts.ts";
import type { Procedure } from "../procedure.ts";
import { type Finding, type LintRule, provers } from "./rule.ts";

const zeroReading = (procedure: Procedure, fact: FactId, gauge: Gauge | undefined): readonly Finding[] =>
  provers(procedure, fact, "making-safe").flatMap(({ step, where }) => {
    const { form } = step;
    if (
      !gauge ||
      (form.kind === "measure" &&
        form.instrument === gauge.id &&
        (form.band.max ?? Infinity) <= gauge.zeroWithin_Pa)
    )
      return [];
    return [
      {
        where: `${where}.form`,
        detail: `"${fact}" is not read as zero on "${gauge.id}"`,
        remedy: `Measure pressure on "${gauge.id}", at most ${gauge.zeroWithin_Pa} Pa.`,
      },
    ];
  });

const silentLook = (procedure: Procedure): readonly Finding[] =>
  provers(procedure, "opening-silent", "making-safe").flatMap(({ step, where }) =>
    step.form.kind === "look" && step.place === "line"
      ? []
      : [
          {
            where,
            detail: "the opening is not looked at from the line",
            remedy: "Use a look at the line, with what may be seen instead: still shut, a hiss, cannot see.",
          },
        ],
  );

const zeroReadings = (procedure: Procedure, rig: Rig): readonly Finding[] => {
  if (rig.emptying.kind !== "vent") return [];
  const gauge = (id: string) => rig.gauges.find((candidate) => candidate.id === id);
  return [
    ...zeroReading(procedure, "line-at-zero", gauge(rig.emptying.lineGauge)),
    ...zeroReading(procedure, "bottle-at-zero", gauge(rig.emptying.bottleGauge)),
  ];
};

const shows = (procedure: Procedure, ...facts: readonly FactId[]): boolean =>
  facts.every((fact) => provers(procedure, fact, "making-safe").length > 0);

const NEITHER: Finding = {
  where: "phases.making-safe",
  detail: "nothing shows the bottle empty: neither both gauges at zero nor the opening silent",
  remedy: "Prove line-at-zero and bottle-at-zero, or opening-silent, by the rig's emptying path.",
};

export const emptinessShown: LintRule = {
  id: "emptiness-shown",
  number: "L10",
  severity: "E",
  title: "Making safe ends in evidence on the bottle's side of every one-way valve",
  source:
    "29 CFR 1910.147(d)(5)-(6) (read); a one-way valve hides a full bottle from the line gauge (derived)",
  deviation: "none",
  check: (procedure, rig) => {
    const either = shows(procedure, "line-at-zero", "bottle-at-zero") || shows(procedure, "opening-silent");
    return [
      ...(either || rig ? [] : [NEITHER]),
      ...silentLook(procedure),
      ...(rig ? zeroReadings(procedure, rig) : []),
    ];
  },
};
