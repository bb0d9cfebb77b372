/** A tank that is not refilled in between. Pressures gauge, as its gauge shows. */
export type Tank = {
  readonly volume_m3: number;
  readonly pressure_Pa: number;
  /** The owner's lower end of the working band: below it staff are called whatever the set pressure. */
  readonly workingMin_Pa: number;
};

/** What one fill takes. */
export type Fill = {
  /** Gauge. */
  readonly setPressure_Pa: number;
  readonly airVolume_m3: number;
};

export type SupplyLine = {
  /** Line and hose that are filled with the bottle and vented with it. */
  readonly hoseVolume_m3: number;
  /** What the tank must keep above the set pressure for the regulator to hold it. */
  readonly regulatorDrop_Pa: number;
};

export type FillOutlook = {
  /** Gauge, in the tank. */
  readonly before_Pa: number;
  readonly after_Pa: number;
  /** "supply-short": it cannot give the set pressure; "below-band": it could, but is under the owner's band. */
  readonly verdict: "good" | "below-band" | "supply-short";
};

/**
 * Follows the tank through fills in order, each from a vented bottle: the tank gives its gas at
 * constant temperature between fills, p_(k+1) = p_k - p_set (V0 + V_hose)/V_tank. A fill that fails
 * takes nothing, as does every one after it.
 * @source docs/model.md#supply; isothermal mass balance, recomputed
 */
export function supplyOutlook(tank: Tank, line: SupplyLine, fills: readonly Fill[]): readonly FillOutlook[] {
  let pressure_Pa = tank.pressure_Pa;
  return fills.map((fill) => {
    const before_Pa = pressure_Pa;
    const after_Pa = before_Pa - dropOf(tank, line, fill);
    if (after_Pa < fill.setPressure_Pa + line.regulatorDrop_Pa) {
      return { before_Pa, after_Pa: before_Pa, verdict: "supply-short" as const };
    }
    pressure_Pa = after_Pa;
    return {
      before_Pa,
      after_Pa,
      verdict: after_Pa < tank.workingMin_Pa ? ("below-band" as const) : ("good" as const),
    };
  });
}

export type SupplyBudget = {
  /** Fills until the supply cannot give the set pressure. */
  readonly fills: number;
  /** Fills that also leave the tank inside its working band: when to have it refilled. */
  readonly fillsInBand: number;
  readonly dropPerFill_Pa: number;
};

/**
 * Like fills: N = floor of (p_tank - p_set - drop) V_tank / (p_set (V0 + V_hose)).
 * @returns 0 where the first fill already fails
 */
export function supplyBudget(tank: Tank, line: SupplyLine, fill: Fill): SupplyBudget {
  const dropPerFill_Pa = dropOf(tank, line, fill);
  const floor_Pa = fill.setPressure_Pa + line.regulatorDrop_Pa;
  const down = (to_Pa: number) => Math.max(0, Math.floor((tank.pressure_Pa - to_Pa) / dropPerFill_Pa));
  return {
    fills: down(floor_Pa),
    fillsInBand: down(Math.max(floor_Pa, tank.workingMin_Pa)),
    dropPerFill_Pa,
  };
}

const dropOf = (tank: Tank, line: SupplyLine, fill: Fill) =>
  (fill.setPressure_Pa * (fill.airVolume_m3 + line.hoseVolume_m3)) / tank.volume_m3;
