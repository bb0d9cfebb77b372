import { type Issue, issue } from "../../result.ts";
import type { Gauge, GaugeSide } from "../rig.ts";
import { among, type Contradiction, when } from "./contradiction.ts";

/** Gauges that cannot show what is to be read on them, and references to gauges that are not there. */

const reference = (
  gauges: readonly Gauge[],
  { id, where, side }: { readonly id: string; readonly where: string; readonly side: GaugeSide },
): readonly Issue[] => {
  const found = gauges.find((gauge) => gauge.id === id);
  if (!found) {
    const known = gauges.map((gauge) => gauge.id).join(", ");
    return [issue("gauge-unknown", where, `the rig has no gauge "${id}"`, `Name one of: ${known}.`)];
  }
  return when(found.side !== side, () =>
    issue(
      "gauge-on-wrong-side",
      where,
      `"${id}" reads the ${found.side} side, not the ${side} side`,
      side === "bottle"
        ? "Only a gauge beyond every one-way valve shows what is left in the bottle."
        : `Name a gauge of the ${side} side.`,
    ),
  );
};

/** Must be shown on its face: the highest value that matters there. */
const tooShort = (gauge: Gauge, where: string, needed_Pa: number, what: string): readonly Issue[] =>
  when(gauge.range_Pa.max < needed_Pa || gauge.range_Pa.min > 0, () =>
    issue(
      "gauge-out-of-range",
      where,
      `"${gauge.id}" shows ${gauge.range_Pa.min} to ${gauge.range_Pa.max} Pa, not zero to ${what}, ${needed_Pa} Pa`,
      "Fit a gauge that shows zero and the highest pressure that matters there.",
    ),
  );

export const gaugeContradictions: readonly Contradiction[] = [
  among(["gauges", "bottle", "supply"], ({ gauges, bottle, supply }) =>
    gauges.flatMap((gauge, at) =>
      gauge.side === "supply"
        ? tooShort(gauge, `gauges[${at}].range_Pa`, supply.workingMax_Pa, "the supply's band")
        : tooShort(gauge, `gauges[${at}].range_Pa`, bottle.limit_Pa, "the bottle's limit"),
    ),
  ),
  among(["gauges", "pressure"], ({ gauges, pressure }) =>
    gauges.flatMap((gauge, at) =>
      when(gauge.zeroWithin_Pa >= pressure.set_Pa / 10, () =>
        issue(
          "zero-too-wide",
          `gauges[${at}].zeroWithin_Pa`,
          `"${gauge.id}" calls ${gauge.zeroWithin_Pa} Pa zero, a tenth or more of the set pressure`,
          "Give how far the pointer may stand off zero with the line open.",
        ),
      ),
    ),
  ),
  among(["gauges", "supply"], ({ gauges, supply }) =>
    reference(gauges, { id: supply.gauge, where: "supply.gauge", side: "supply" }),
  ),
  among(["gauges", "emptying"], ({ gauges, emptying }) =>
    emptying.kind === "release"
      ? []
      : [
          ...reference(gauges, { id: emptying.lineGauge, where: "emptying.lineGauge", side: "line" }),
          ...reference(gauges, { id: emptying.bottleGauge, where: "emptying.bottleGauge", side: "bottle" }),
        ],
  ),
  among(["limits", "pressure"], ({ limits, pressure }) =>
    when(limits.gaugesAgree_Pa >= pressure.set_Pa / 2, () =>
      issue(
        "gauges-never-disagree",
        "limits.gaugesAgree_Pa",
        `two gauges may differ by ${limits.gaugesAgree_Pa} Pa, half the set pressure or more`,
        "Give how far two sound gauges differ at most.",
      ),
    ),
  ),
];
