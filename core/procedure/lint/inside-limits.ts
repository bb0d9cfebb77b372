import { allSteps, type Finding, type LintRule } from "./rule.ts";

export const insideLimits: LintRule = {
  id: "inside-limits",
  number: "L15",
  severity: "E",
  title:
    "No reading may be accepted above the bottle's limit or off its gauge; the bottle is inside its life",
  source: "HSE GS4 (read); University of Nebraska rules 4 and 12 (read)",
  deviation: "may be accepted",
  check: (procedure, rig) => {
    if (!rig) return [];
    const { bottle, gauges, supply } = rig;
    const used: readonly Finding[] =
      bottle.shotsSoFar < bottle.shotsAllowed
        ? []
        : [
            {
              where: "the rig, bottle.shotsSoFar",
              detail: `${bottle.shotsSoFar} shots of ${bottle.shotsAllowed} allowed`,
              remedy: "Scrap the bottle; enter the new one with its own count.",
            },
          ];
    const readings = allSteps(procedure).flatMap(({ step, where }): readonly Finding[] => {
      const { form } = step;
      if (form.kind !== "measure" || form.quantity !== "pressure") return [];
      const gauge = gauges.find(({ id }) => id === form.instrument);
      const limit_Pa = form.instrument === supply.gauge ? supply.workingMax_Pa : bottle.limit_Pa;
      const top_Pa = form.band.max;
      if (top_Pa === undefined)
        return [
          {
            where: `${where}.form.band`,
            detail: "the band is open upwards",
            remedy: `Write "max", at most ${limit_Pa}.`,
          },
        ];
      const highest_Pa = Math.min(limit_Pa, gauge?.range_Pa.max ?? limit_Pa);
      return top_Pa <= highest_Pa
        ? []
        : [
            {
              where: `${where}.form.band.max`,
              detail: `${top_Pa} Pa would be accepted; the limit here is ${highest_Pa} Pa`,
              remedy: "Lower it; the limit is the owner's.",
            },
          ];
    });
    return [...used, ...readings];
  },
};
