import type { UnitKind } from "../widgets/unit-choice.ts";
import type { PlanKey } from "./plan-numbers.ts";

/** What the form asks for, in the order it asks. */
export type PlanField = {
  readonly key: PlanKey;
  readonly label: string;
  readonly kind: UnitKind;
  readonly hint?: string;
  /** What stands in for an empty field, in words. */
  readonly empty?: string;
};

export type PlanGroup = {
  readonly title: string;
  readonly open: boolean;
  readonly fields: readonly PlanField[];
};

export const planGroups: readonly PlanGroup[] = [
  {
    title: "Shot",
    open: true,
    fields: [
      { key: "water_kg", label: "Water", kind: "water" },
      {
        key: "setPressure_Pa",
        label: "Set pressure",
        kind: "pressure",
        hint: "Gauge, as read before release",
      },
    ],
  },
  {
    title: "Bottle and opening",
    open: true,
    fields: [
      {
        key: "bottleVolume_m3",
        label: "Capacity",
        kind: "volume",
        hint: "To the exit plane, under pressure; not the label",
      },
      {
        key: "bottleLimit_Pa",
        label: "Pressure limit",
        kind: "pressure",
        hint: "Set by the rig's owner, never by this tool",
      },
      { key: "openingDiameter_m", label: "Opening", kind: "length" },
      { key: "bottleDiameter_m", label: "Inside diameter", kind: "length", empty: "head of water left out" },
      { key: "neckLength_m", label: "Neck length", kind: "length", empty: "none" },
      {
        key: "ridingMass_kg",
        label: "Riding mass",
        kind: "mass",
        hint: "Flies if nothing holds; bottle included",
      },
    ],
  },
  {
    title: "Air and water",
    open: false,
    fields: [
      { key: "ambientPressure_Pa", label: "Surroundings", kind: "air", empty: "1013.25 hPa" },
      { key: "waterTemperature_C", label: "Water temperature", kind: "temperature", empty: "20 °C" },
      { key: "airTemperature_C", label: "Air temperature", kind: "temperature", empty: "20 °C" },
      {
        key: "polytropicExponent",
        label: "Exponent of the air",
        kind: "ratio",
        empty: "from the temperature",
        hint: "1 isothermal to 1.4 adiabatic; this stand's own fit is better than any",
      },
      { key: "velocityCoefficient", label: "Velocity coefficient", kind: "ratio", empty: "1" },
      { key: "contraction", label: "Contraction", kind: "ratio", empty: "1" },
    ],
  },
  {
    title: "Supply",
    open: false,
    fields: [
      { key: "tankVolume_m3", label: "Tank", kind: "volume" },
      { key: "tankPressure_Pa", label: "Tank pressure now", kind: "pressure" },
      {
        key: "workingMin_Pa",
        label: "Worked down to",
        kind: "pressure",
        hint: "Lower end of the owner's band",
      },
      {
        key: "hoseVolume_m3",
        label: "Hose and line",
        kind: "volume",
        hint: "Filled and vented with the bottle",
      },
      { key: "regulatorDrop_Pa", label: "Kept above the set pressure", kind: "pressure" },
    ],
  },
];
