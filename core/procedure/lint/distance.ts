import type { Finding, LintRule } from "./rule.ts";

// Water Rocket Safety Code §4: up to 60 psi 10 ft with eye protection, above it 20 ft.
const STEP_Pa = (60 * 4.4482216152605) / 0.0254 ** 2;
const NEAR_m = 3.048;
const FAR_m = 6.096;

export const distance: LintRule = {
  id: "distance",
  number: "L33",
  severity: "E",
  title:
    "Post and line are as far from the stand as the hobby's code asks at this pressure, with eye protection",
  source:
    "Water Rocket Safety Code §4 (read); University of Nebraska rule 10 (read); local rules may ask for more",
  deviation: "may be accepted",
  check: (_procedure, rig): readonly Finding[] => {
    if (!rig) return [];
    const least_m = rig.pressure.set_Pa + rig.pressure.tolerance_Pa > STEP_Pa ? FAR_m : NEAR_m;
    const stand = rig.places.find(({ kind }) => kind === "stand")?.at ?? { x: 0, y: 0 };
    return rig.places.flatMap(({ kind, name, at }, index) => {
      const away_m = Math.hypot(at.x - stand.x, at.y - stand.y);
      return (kind === "post" || kind === "line") && away_m < least_m
        ? [
            {
              where: `the rig, places[${index}].at`,
              detail: `${name} is ${away_m.toFixed(1)} m from the stand, the code asks for ${least_m.toFixed(1)} m`,
              remedy: "Move it out, or lower the set pressure.",
            },
          ]
        : [];
    });
  },
};
