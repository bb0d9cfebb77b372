import * as v from "valibot";
import { list, name, quantity, some, whole, words } from "../schema/parts.ts";
import type { DeepReadonly, SameShape } from "../schema/same-shape.ts";
import type { Rig } from "./rig.ts";

/** The rig as a strict schema; published as docs/schemas/rig.schema.json. */

const pressure_Pa = (description: string) => quantity(description, { least: 0, greatest: 5e6 });
const seconds = (description: string, least = 1) => quantity(description, { least, greatest: 86_400 });
const metres = (description: string, greatest: number) => quantity(description, { least: 0.0005, greatest });

const PointSchema = v.pipe(
  v.strictObject({
    x: quantity("m, to the right of the stand as seen from the line", { least: -500, greatest: 500 }),
    y: quantity("m, away from the line", { least: -500, greatest: 500 }),
  }),
  v.description("position on the plan; the stand's middle is 0,0"),
);

const RestraintSchema = v.strictObject({
  id: name("short name, used in the log"),
  mark: words("as marked on the metal", 12),
  kind: words("what it is: an over-centre latch, a swing bolt"),
  at: PointSchema,
});

const GaugeSchema = v.strictObject({
  id: name("short name, used by steps and in the log"),
  name: words("what the crew calls it"),
  side: v.pipe(
    v.picklist(["supply", "line", "bottle"]),
    v.description("what it reads: before the regulator, the line, or beyond every one-way valve"),
  ),
  place: words("where it is read"),
  unit: v.pipe(v.picklist(["bar", "kPa", "psi"]), v.description("the unit printed on its face")),
  range_Pa: v.strictObject({ min: pressure_Pa("Pa gauge"), max: pressure_Pa("Pa gauge") }),
  zeroWithin_Pa: pressure_Pa("Pa: a pointer at or under this reads as zero"),
});

const EmptyingSchema = v.pipe(
  v.variant("kind", [
    v.strictObject({
      kind: v.literal("vent"),
      lineGauge: name("gauge that shows the line at zero"),
      bottleGauge: name("gauge on the bottle side of every one-way valve"),
      evidence: words("what shows that the bottle is empty"),
    }),
    v.strictObject({
      kind: v.literal("release"),
      evidence: words("what shows that the bottle is empty"),
    }),
  ]),
  v.description("how a charged bottle is emptied from outside the line: vent or release"),
);

const SupplySchema = v.pipe(
  v.variant("kind", [
    v.strictObject({
      kind: v.literal("tank"),
      volume_m3: quantity("m³", { least: 1e-4, greatest: 10 }),
      full_Pa: quantity("Pa gauge when full", { least: 1000, greatest: 4e7 }),
      workingMin_Pa: quantity("Pa gauge; under this, call staff", { least: 0, greatest: 4e7 }),
      workingMax_Pa: quantity("Pa gauge", { least: 1000, greatest: 4e7 }),
      gauge: name("gauge that is read"),
    }),
    v.strictObject({
      kind: v.literal("piped"),
      workingMin_Pa: quantity("Pa gauge; under this, call staff", { least: 0, greatest: 4e7 }),
      workingMax_Pa: quantity("Pa gauge", { least: 1000, greatest: 4e7 }),
      gauge: name("gauge that is read"),
    }),
  ]),
  v.description("where the air comes from, and the band it is used in"),
);

const ChannelSchema = v.strictObject({
  id: name("short name"),
  name: words("what the crew calls it"),
  column: words("header text in the recorder's file"),
  unit: words("unit in the recorder's file", 12),
  sign: v.pipe(v.picklist([1, -1]), v.description("-1 where thrust reads negative")),
  sensitivity: v.exactOptional(
    v.strictObject({
      value: quantity("as on its certificate", { least: -1e9, greatest: 1e9 }),
      unit: words("its unit", 20),
    }),
  ),
  sensitivityRelU: quantity("relative standard uncertainty, a fraction", { least: 0, greatest: 1 }),
  dischargeTime_s: v.pipe(
    v.union([quantity("s", { least: 1e-3, greatest: 1e6 }), v.picklist(["fit", "none"])]),
    v.description("discharge time constant in s, or fit, or none"),
  ),
});

const PlaceSchema = v.strictObject({
  id: name("short name"),
  kind: v.pipe(
    v.picklist(["stand", "post", "line", "indoors", "bench"]),
    v.description("the stand only while cold, the post for valves, the line otherwise"),
  ),
  name: words("what the crew calls it"),
  at: PointSchema,
});

const SectorSchema = v.strictObject({
  name: words("what goes there"),
  from_deg: quantity("bearing, clockwise from straight away from the line", { least: 0, greatest: 360 }),
  to_deg: quantity("bearing, clockwise from straight away from the line", { least: 0, greatest: 360 }),
  radius_m: quantity("m from the stand", { least: 0.1, greatest: 500 }),
});

const PartSchema = v.strictObject({
  id: name("short name"),
  name: words("what the crew calls it"),
  count: whole("uses so far", { least: 0, greatest: 1e6 }),
  limit: whole("uses allowed", { least: 1, greatest: 1e6 }),
});

const LimitsSchema = v.pipe(
  v.strictObject({
    zeroToRelease_s: seconds("s from the zero to the release; common practice about 5, no source", 0.5),
    clearBeforeZero_s: seconds("s that clear stays fresh before the zero"),
    clearBeforeAir_s: seconds("s that clear stays fresh before air or a discharge"),
    timeAtPressure_s: seconds("s that the bottle may stand at pressure"),
    zeros: whole("zeros of the recorder in one build-up", { least: 1, greatest: 20 }),
    pulls: whole("pulls of the release in one build-up, the first included", { least: 1, greatest: 20 }),
    waitAfterRelease_s: seconds("s of waiting after a release that was seen", 0),
    waitAfterDoubt_s: seconds("s of waiting after a misfire or any doubt"),
    gaugesAgree_Pa: pressure_Pa("Pa by which two gauges may differ"),
  }),
  v.description("the owner's limits; none has a default"),
);

export const RigSchema = v.pipe(
  v.strictObject({
    format: v.literal("fourfast-rig"),
    version: v.literal(1),
    id: name("short name, used by procedures"),
    name: words("what the crew calls the stand"),
    letter: v.pipe(
      v.string(),
      v.regex(/^[A-Z]$/, "one capital letter"),
      v.description("opens every run code"),
    ),
    owner: words("who answers for the limits"),
    synthetic: v.pipe(v.boolean(), v.description("true where the stand is invented")),
    bottle: v.strictObject({
      capacity_m3: quantity("m³ to the exit plane, at pressure: not the label", {
        least: 1e-5,
        greatest: 0.2,
      }),
      capacityU_m3: quantity("m³, standard uncertainty", { least: 0, greatest: 0.02 }),
      diameter_m: v.exactOptional(metres("m, inside", 2)),
      limit_Pa: quantity("Pa gauge, the owner's limit", { least: 1000, greatest: 5e6 }),
      shotsSoFar: whole("shots so far", { least: 0, greatest: 10_000 }),
      shotsAllowed: whole("shots allowed", { least: 1, greatest: 10_000 }),
    }),
    opening: v.strictObject({
      diameter_m: metres("m", 0.3),
      neckLength_m: v.exactOptional(quantity("m", { least: 0, greatest: 1 })),
    }),
    fill: v.strictObject({
      water_kg: quantity("kg", { least: 0, greatest: 200 }),
      tolerance_kg: quantity("kg", { least: 0.0001, greatest: 10 }),
    }),
    pressure: v.strictObject({
      set_Pa: quantity("Pa gauge", { least: 2000, greatest: 5e6 }),
      tolerance_Pa: quantity("Pa", { least: 1, greatest: 1e6 }),
    }),
    restraints: some(
      RestraintSchema,
      "what holds the bottle; two or more, so that one forgotten is not all",
      2,
    ),
    pull: v.strictObject({
      force_N: quantity("N of the pull test", { least: 1, greatest: 2000 }),
      direction: words("which way, on what"),
    }),
    ridingMass_kg: quantity("kg that fly if nothing holds, bottle included", {
      least: 0.005,
      greatest: 1000,
    }),
    emptying: EmptyingSchema,
    gauges: some(GaugeSchema, "which is read, where, in which unit"),
    oneWayValveOpens_Pa: pressure_Pa("Pa that open the one-way valve"),
    supply: SupplySchema,
    channels: some(ChannelSchema, "force channels of the recorder"),
    calibratedTogether: v.pipe(v.boolean(), v.description("true where one calibration served all channels")),
    limits: LimitsSchema,
    places: some(PlaceSchema, "where people may be"),
    sectors: list(SectorSchema, "where nobody may be while pressure is possible"),
    parts: list(PartSchema, "parts that wear, with counts and limits"),
    service: v.pipe(
      v.variant("in", [
        v.strictObject({ in: v.literal(true) }),
        v.strictObject({ in: v.literal(false), tag: words("what the tag says") }),
      ]),
      v.description("in or out of service"),
    ),
    responsible: some(name("a code, never a name"), "who may speak the responsible person's word"),
  }),
  v.title("Fourfast rig, version 1"),
);

const sameShape: SameShape<DeepReadonly<v.InferOutput<typeof RigSchema>>, Rig> = true;
void sameShape;
