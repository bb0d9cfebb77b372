/**
 * A rig is the stand as data: what it is made of, what holds the bottle, how a charged bottle is
 * emptied from outside the line, and every limit. Limits are the owner's; none has a default here.
 * SI throughout, pressures gauge, unit last in the name. Documented in docs/formats.md.
 */

export type Point = { readonly x: number; readonly y: number };

/** Position on the plan: the stand's middle is 0,0, x to the right, y away from the line, in metres. */
export type Restraint = {
  readonly id: string;
  /** As marked on the metal. */
  readonly mark: string;
  readonly kind: string;
  readonly at: Point;
};

export type GaugeSide = "supply" | "line" | "bottle";

export type Gauge = {
  readonly id: string;
  readonly name: string;
  readonly side: GaugeSide;
  readonly place: string;
  /** The unit printed on its face: readings are typed in it. */
  readonly unit: "bar" | "kPa" | "psi";
  readonly range_Pa: { readonly min: number; readonly max: number };
  /** A pointer at or under this reads as zero. */
  readonly zeroWithin_Pa: number;
};

/** How a charged bottle is emptied from outside the line: the sequence follows what is declared here. */
export type EmptyingPath =
  | {
      readonly kind: "vent";
      readonly lineGauge: string;
      readonly bottleGauge: string;
      readonly evidence: string;
    }
  | { readonly kind: "release"; readonly evidence: string };

export type Supply =
  | {
      readonly kind: "tank";
      readonly volume_m3: number;
      readonly full_Pa: number;
      readonly workingMin_Pa: number;
      readonly workingMax_Pa: number;
      readonly gauge: string;
    }
  | {
      readonly kind: "piped";
      readonly workingMin_Pa: number;
      readonly workingMax_Pa: number;
      readonly gauge: string;
    };

export type ForceChannel = {
  readonly id: string;
  readonly name: string;
  /** Header text in the recorder's file. */
  readonly column: string;
  readonly unit: string;
  readonly sign: 1 | -1;
  readonly sensitivity?: { readonly value: number; readonly unit: string };
  readonly sensitivityRelU: number;
  readonly dischargeTime_s: number | "fit" | "none";
};

/** Where people may be: at the stand only while cold, at the post for valves, at the line otherwise. */
export type PlaceKind = "stand" | "post" | "line" | "indoors" | "bench";

export type Place = {
  readonly id: string;
  readonly kind: PlaceKind;
  readonly name: string;
  readonly at: Point;
};

/**
 * A direction that must be empty of people: the opening's side, the sides the slide can fly to.
 * Bearings run clockwise from straight away from the line (the plan's y).
 */
export type Sector = {
  readonly name: string;
  readonly from_deg: number;
  readonly to_deg: number;
  readonly radius_m: number;
};

export type WearPart = {
  readonly id: string;
  readonly name: string;
  readonly count: number;
  readonly limit: number;
};

export type RigLimits = {
  /** From the zero to the release; common practice about 5 s, no source. */
  readonly zeroToRelease_s: number;
  readonly clearBeforeZero_s: number;
  readonly clearBeforeAir_s: number;
  readonly timeAtPressure_s: number;
  /** Times the recorder may be zeroed in one build-up. */
  readonly zeros: number;
  /** Pulls of the release in one build-up, the first included. */
  readonly pulls: number;
  /** After a release that was seen, with the bottle shown empty. */
  readonly waitAfterRelease_s: number;
  /** After a misfire or any doubt. */
  readonly waitAfterDoubt_s: number;
  readonly gaugesAgree_Pa: number;
};

export type Rig = {
  readonly format: "fourfast-rig";
  readonly version: 1;
  readonly id: string;
  readonly name: string;
  /** Opens every run code of this stand. */
  readonly letter: string;
  readonly owner: string;
  readonly synthetic: boolean;
  readonly bottle: {
    /** To the exit plane, at pressure: not the label. */
    readonly capacity_m3: number;
    readonly capacityU_m3: number;
    readonly diameter_m?: number;
    readonly limit_Pa: number;
    readonly shotsSoFar: number;
    readonly shotsAllowed: number;
  };
  readonly opening: { readonly diameter_m: number; readonly neckLength_m?: number };
  readonly fill: { readonly water_kg: number; readonly tolerance_kg: number };
  readonly pressure: { readonly set_Pa: number; readonly tolerance_Pa: number };
  readonly restraints: readonly Restraint[];
  readonly pull: { readonly force_N: number; readonly direction: string };
  /** What flies if nothing holds, bottle included. */
  readonly ridingMass_kg: number;
  readonly emptying: EmptyingPath;
  readonly gauges: readonly Gauge[];
  readonly oneWayValveOpens_Pa: number;
  readonly supply: Supply;
  readonly channels: readonly ForceChannel[];
  readonly calibratedTogether: boolean;
  readonly limits: RigLimits;
  readonly places: readonly Place[];
  readonly sectors: readonly Sector[];
  readonly parts: readonly WearPart[];
  readonly service: { readonly in: true } | { readonly in: false; readonly tag: string };
  /** Who may speak the responsible person's word here: codes, never names. */
  readonly responsible: readonly string[];
};
