import { type Issue, issue } from "../../result.ts";
import type { PlaceKind, Point, Sector } from "../rig.ts";
import { among, type Contradiction, when } from "./contradiction.ts";

/** The plan of the site: every place that is used, and none inside a closed sector. */

const NEEDED: readonly PlaceKind[] = ["stand", "post", "line"];

const isInside = ({ x, y }: Point, { from_deg, to_deg, radius_m }: Sector): boolean => {
  const bearing_deg = (Math.atan2(x, y) * (180 / Math.PI) + 360) % 360;
  const between =
    from_deg <= to_deg
      ? bearing_deg >= from_deg && bearing_deg <= to_deg
      : bearing_deg >= from_deg || bearing_deg <= to_deg;
  return between && Math.hypot(x, y) < radius_m;
};

const isSamePoint = (a: Point, b: Point): boolean => a.x === b.x && a.y === b.y;

export const placeContradictions: readonly Contradiction[] = [
  among(["places"], ({ places }) =>
    NEEDED.filter((kind) => !places.some((place) => place.kind === kind)).map((kind) =>
      issue("place-missing", "places", `no place of kind "${kind}"`, "Say where it is on the plan."),
    ),
  ),
  among(["places", "sectors"], ({ places, sectors }) =>
    places.flatMap((place, at): readonly Issue[] =>
      place.kind === "stand"
        ? []
        : sectors
            .filter((sector) => isInside(place.at, sector))
            .map((sector) =>
              issue(
                "place-in-sector",
                `places[${at}].at`,
                `${place.name} lies inside the closed sector "${sector.name}"`,
                "Move the place, or correct the sector.",
              ),
            ),
    ),
  ),
  among(["restraints"], ({ restraints }) =>
    restraints.flatMap((restraint, at) =>
      when(
        restraints.slice(0, at).some((other) => isSamePoint(other.at, restraint.at)),
        () =>
          issue(
            "restraints-in-one-place",
            `restraints[${at}].at`,
            `another restraint stands at ${restraint.at.x}, ${restraint.at.y} too`,
            "Give each its own place: the crew finds it by the plan.",
          ),
      ),
    ),
  ),
];
