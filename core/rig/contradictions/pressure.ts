import { issue } from "../../result.ts";
import { among, type Contradiction, when } from "./contradiction.ts";

/** Pressures that contradict one another: set, limit, supply, one-way valve. */

/** A regulator needs head to hold its setting; common practice, no source. */
const SUPPLY_HEAD_Pa = 50_000;

export const pressureContradictions: readonly Contradiction[] = [
  among(["bottle", "pressure"], ({ bottle, pressure }) =>
    when(pressure.set_Pa + pressure.tolerance_Pa > bottle.limit_Pa, () =>
      issue(
        "limit-below-set",
        "bottle.limit_Pa",
        `the limit of ${bottle.limit_Pa} Pa is below the set pressure with its tolerance, ${pressure.set_Pa + pressure.tolerance_Pa} Pa`,
        "Lower the set pressure; the limit is the bottle's.",
      ),
    ),
  ),
  among(["pressure"], ({ pressure }) =>
    when(pressure.tolerance_Pa >= pressure.set_Pa, () =>
      issue(
        "tolerance-too-wide",
        "pressure.tolerance_Pa",
        `a tolerance of ${pressure.tolerance_Pa} Pa on ${pressure.set_Pa} Pa accepts no pressure at all`,
        "Give how far from the set pressure a reading may lie.",
      ),
    ),
  ),
  among(["pressure", "supply"], ({ pressure, supply }) =>
    when(supply.workingMin_Pa < pressure.set_Pa + SUPPLY_HEAD_Pa, () =>
      issue(
        "supply-under-set",
        "supply.workingMin_Pa",
        `the supply may work down to ${supply.workingMin_Pa} Pa, less than 50000 Pa above the set ${pressure.set_Pa} Pa`,
        "Raise the lower end of the supply's band, or lower the set pressure.",
      ),
    ),
  ),
  among(["supply"], ({ supply }) => [
    ...when(supply.workingMin_Pa >= supply.workingMax_Pa, () =>
      issue(
        "band-empty",
        "supply.workingMax_Pa",
        `the working band runs from ${supply.workingMin_Pa} to ${supply.workingMax_Pa} Pa`,
        "Give the lower end first.",
      ),
    ),
    ...(supply.kind === "tank"
      ? when(supply.workingMax_Pa > supply.full_Pa, () =>
          issue(
            "supply-over-full",
            "supply.workingMax_Pa",
            `the band reaches ${supply.workingMax_Pa} Pa, a full tank has ${supply.full_Pa} Pa`,
            "End the band at the full tank.",
          ),
        )
      : []),
  ]),
  among(["pressure", "oneWayValveOpens_Pa"], ({ pressure, oneWayValveOpens_Pa }) =>
    when(oneWayValveOpens_Pa >= pressure.set_Pa, () =>
      issue(
        "valve-never-opens",
        "oneWayValveOpens_Pa",
        `the one-way valve opens at ${oneWayValveOpens_Pa} Pa, the set pressure is ${pressure.set_Pa} Pa`,
        "Correct the opening pressure of the valve.",
      ),
    ),
  ),
];
