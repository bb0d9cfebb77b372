import { findStep } from "../../core/procedure/procedure.ts";
import type { WrittenDocuments } from "../../core/procedure/rig-numbers.ts";

/**
 * What the instruments of a stand show on a good day, worked out from its rig as written: nothing is taken off the
 * page, and no conversion of the app is used, so that a page with a wrong band or unit is found out.
 */

/** In SI: kg, Pa, N, °C. By definition of the units. */
const PER_UNIT: { readonly [unit: string]: number } = {
  g: 1e-3,
  kg: 1,
  bar: 1e5,
  kPa: 1e3,
  N: 1,
  "°C": 1,
};
/** kg of water in a mL of a vessel at 20 °C; common tables, remembered. */
const POURED_kg_mL = 0.9982e-3;
const VESSEL_g = 48;

type Ends = { readonly min?: number | undefined; readonly max?: number | undefined };

export type Asked = {
  /** As a person would type them, first field first. */
  readonly weighed: readonly string[];
  readonly poured: readonly string[];
  readonly single: readonly string[];
  /** What is wrong with the band that the page shows; undefined where it is the rig's own. */
  readonly faultOf: (shown: string) => string | undefined;
};

/** @param id  of a step that measures */
export const askedAt = (documents: WrittenDocuments, id: string): Asked => {
  const form = findStep(documents.written, id)?.step.form;
  if (form?.kind !== "measure") throw new Error(`"${id}" measures nothing on ${documents.rig.name}`);
  const ends = endsAt(documents, id);
  const middle = ends.min === undefined ? 0 : (ends.min + (ends.max ?? ends.min)) / 2;
  const full_g = Number((middle * 1000).toFixed(1)) + VESSEL_g;
  return {
    weighed: [String(full_g), String(VESSEL_g)],
    poured: [(middle / POURED_kg_mL).toFixed(0), "20"],
    single: [String(Number((middle / (PER_UNIT[form.unit] ?? Number.NaN)).toFixed(4)))],
    faultOf: (shown) => faultOf(shown, ends),
  };
};

/** The owner's own numbers first: a procedure could state others. */
const endsAt = ({ rig, written }: WrittenDocuments, id: string): Ends => {
  const step = findStep(written, id)?.step;
  const around = (middle: number, by: number): Ends => ({ min: middle - by, max: middle + by });
  if (step?.proves.includes("water-measured")) return around(rig.fill.water_kg, rig.fill.tolerance_kg);
  if (step?.proves.includes("supply-in-band"))
    return { min: rig.supply.workingMin_Pa, max: rig.supply.workingMax_Pa };
  if (step?.form.kind !== "measure") return {};
  const { band } = step.form;
  return band.of === "pressure" ? around(rig.pressure.set_Pa, rig.pressure.tolerance_Pa) : band;
};

const faultOf = (shown: string, { min, max }: Ends): string | undefined => {
  const [words = ""] = shown.split(" (");
  const unit = /(?<=\d )\S+$/.exec(words)?.[0] ?? "";
  const numbers = (words.match(/-?\d+(?:\.\d+)?/g) ?? []).map(
    (text) => Number(text) * (PER_UNIT[unit] ?? Number.NaN),
  );
  const wanted = [min, max].filter((end) => end !== undefined);
  const same =
    numbers.length === wanted.length &&
    numbers.every((number, at) => Math.abs(number - wanted[at]!) <= 1e-3 * Math.abs(wanted[at]!));
  return same ? undefined : `the page says "${shown}", the rig ${wanted.join(" to ")} in SI`;
};
