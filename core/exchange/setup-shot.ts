import { polytropicPrior } from "../propulsion/polytropic-prior.ts";
import { waterDensity_kg_m3 } from "../propulsion/water-density.ts";
import { type Issue, issue } from "../result.ts";
import {
  type Assumed,
  assume,
  type Fields,
  type NumberReader,
  readChoice,
  readNumbers,
} from "./setup-fields.ts";
import { shotNumbers } from "./setup-keys.ts";

/** The conditions of one shot: every default resolved, every number inside its range. */
export type ShotSetup = {
  readonly water_kg: number;
  /** Gauge. */
  readonly setPressure_Pa: number;
  readonly bottleVolume_m3: number;
  readonly openingDiameter_m: number;
  readonly bottleDiameter_m?: number;
  readonly neckLength_m?: number;
  readonly neckDiameter_m: number;
  /** Absolute. */
  readonly ambientPressure_Pa: number;
  readonly waterDensity_kg_m3: number;
  readonly airTemperature_C: number;
  /** Absent: not given. A prediction then takes its own prior, a reduction fits it. */
  readonly polytropicExponent?: number;
  readonly contraction: number;
  readonly velocityCoefficient: number;
  /** Never true without a bottle diameter. */
  readonly headOfWater: boolean;
  readonly gravity_m_s2: number;
  readonly ridingMass_kg?: number;
  readonly stopperHeld: "inside" | "outside";
};

/** Keys beside the numbers. */
export const shotChoices = ["headOfWater", "stopperHeld"] as const;

type ShotNumbers = NumberReader<keyof typeof shotNumbers>;

/**
 * Reads the conditions of one shot.
 * @param path  what stands before each key in an issue's `where`: "" or "events[0]."
 * @param others  keys of the same object that are read elsewhere
 * @returns undefined where anything was refused; what and why is then in `issues`
 */
export function readShot(
  json: Fields,
  path: string,
  verb: "predict" | "reduce",
  others: readonly string[],
  assumed: Assumed,
  issues: Issue[],
): ShotSetup | undefined {
  const before = issues.length;
  const numbers = readNumbers(json, path, shotNumbers, [...shotChoices, ...others], issues);
  const head = readChoice(json["headOfWater"], `${path}headOfWater`, [true, false], issues);
  const held = readChoice(json["stopperHeld"], `${path}stopperHeld`, ["inside", "outside"], issues);
  issues.push(...contradictions(numbers, path));
  if (issues.length > before) return undefined;

  const optional = <Key extends keyof typeof shotNumbers>(key: Key) => {
    const value = numbers.get(key);
    return (value === undefined ? {} : { [key]: value }) as { readonly [K in Key]?: number };
  };
  const airTemperature_C = numbers.orDefault("airTemperature_C", assumed);
  if (verb === "predict" && numbers.get("polytropicExponent") === undefined) {
    assume(assumed, "polytropicExponent", polytropicPrior(airTemperature_C).mean);
  }
  const openingDiameter_m = numbers.get("openingDiameter_m")!;
  const neckDiameter_m = numbers.get("neckDiameter_m");
  if (verb === "reduce" && numbers.get("neckLength_m") !== undefined && neckDiameter_m === undefined) {
    assume(assumed, "neckDiameter_m", openingDiameter_m);
  }
  return {
    water_kg: numbers.get("water_kg")!,
    setPressure_Pa: numbers.get("setPressure_Pa")!,
    bottleVolume_m3: numbers.get("bottleVolume_m3")!,
    openingDiameter_m,
    ...optional("bottleDiameter_m"),
    ...optional("neckLength_m"),
    neckDiameter_m: neckDiameter_m ?? openingDiameter_m,
    ambientPressure_Pa: numbers.orDefault("ambientPressure_Pa", assumed),
    waterDensity_kg_m3:
      numbers.get("waterDensity_kg_m3") ??
      waterDensity_kg_m3(numbers.orDefault("waterTemperature_C", assumed)),
    airTemperature_C,
    ...optional("polytropicExponent"),
    contraction: numbers.orDefault("contraction", assumed),
    velocityCoefficient: numbers.orDefault("velocityCoefficient", assumed),
    headOfWater: headOfWater(numbers, head, assumed),
    gravity_m_s2: numbers.orDefault("gravity_m_s2", assumed),
    ...optional("ridingMass_kg"),
    stopperHeld: held ?? (verb === "reduce" ? assume(assumed, "stopperHeld", "inside") : "inside"),
  };
}

/** Head and area ratio both need the bottle's section: without it neither is used, and that is said. */
function headOfWater(numbers: ShotNumbers, given: boolean | undefined, assumed: Assumed): boolean {
  const sectionKnown = numbers.get("bottleDiameter_m") !== undefined;
  if (!sectionKnown) return given === false ? false : assume(assumed, "headOfWater", false);
  return given ?? assume(assumed, "headOfWater", true);
}

export const contradictionCodes: ReadonlySet<string> = new Set([
  "water-exceeds-bottle",
  "opening-exceeds-bottle",
  "neck-exceeds-bottle",
]);

/** Numbers that are each possible and together are not. */
function contradictions(numbers: ShotNumbers, path: string): readonly Issue[] {
  const found: Issue[] = [];
  const water_kg = numbers.get("water_kg");
  const capacity_m3 = numbers.get("bottleVolume_m3");
  if (water_kg !== undefined && capacity_m3 !== undefined) {
    const temperature_C = numbers.get("waterTemperature_C") ?? shotNumbers.waterTemperature_C.default;
    const water_m3 = water_kg / (numbers.get("waterDensity_kg_m3") ?? waterDensity_kg_m3(temperature_C));
    if (water_m3 >= capacity_m3) {
      const detail = `${water_kg} kg of water take ${litres(water_m3)}, the bottle holds ${litres(capacity_m3)}: no room for air`;
      const remedy = "give less water, or the bottle's capacity to the exit plane as measured";
      found.push(issue("water-exceeds-bottle", `${path}water_kg`, detail, remedy));
    }
  }
  const bottle_m = numbers.get("bottleDiameter_m");
  const opening_m = numbers.get("openingDiameter_m");
  const neck_m = numbers.get("neckDiameter_m");
  if (bottle_m !== undefined && opening_m !== undefined && opening_m >= bottle_m) {
    const detail = `an opening of ${opening_m} m in a bottle of ${bottle_m} m`;
    const remedy = "the opening is narrower than the bottle: look whether the two are swapped";
    found.push(issue("opening-exceeds-bottle", `${path}openingDiameter_m`, detail, remedy));
  }
  if (bottle_m !== undefined && neck_m !== undefined && neck_m > bottle_m) {
    const detail = `a neck of ${neck_m} m on a bottle of ${bottle_m} m`;
    const remedy = "the neck is no wider than the bottle: look whether the two are swapped";
    found.push(issue("neck-exceeds-bottle", `${path}neckDiameter_m`, detail, remedy));
  }
  return found;
}

const litres = (volume_m3: number) => `${(volume_m3 * 1000).toPrecision(4)} L`;
