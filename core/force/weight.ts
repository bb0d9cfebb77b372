/**
 * The weight that leaves the stand while it pushes. The water's speed follows from the momentum of the
 * water in the bottle, the start and the neck included:
 *
 *   T = ρQ²(1/Aⱼ − 1/Aₛ) + ρH dQ/dt,   H the height of the column above the exit plane,
 *
 * an equation for the flow Q that the measured force drives. The jet's area follows from the condition
 * that the expelled mass is gone at the water's end, so it is a result, not an input.
 */
export type BottleShape = {
  readonly water_kg: number;
  readonly density_kg_m3: number;
  /** Section of the bottle; Infinity where it is not known, which leaves out head and area ratio. */
  readonly section_m2: number;
  readonly neckLength_m: number;
  readonly opening_m2: number;
};

export type Outflow = {
  /** Mass gone at each sample. */
  readonly gone_kg: Float64Array;
  /** Volume flow at each sample. */
  readonly flow_m3_s: Float64Array;
  readonly jetArea_m2: number;
};

/** Fine enough for the start's few milliseconds; a fast recorder's samples are skipped, a slow one's divided. */
const step_s = 2e-4;
const rounds = 60;
const closeEnough = 1e-6;

/** Samples between which water leaves. */
export type OutflowMarks = {
  readonly onset: number;
  /** The surface reaches the neck: from here the thrust is halved and the neck's slug follows evenly. */
  readonly neck: number;
  readonly waterEnd: number;
};

/**
 * @param stand_N  force on the stand by sample: thrust with the weight still missing from it
 * @returns mass gone and flow; the jet area for which the water above the neck is gone when its surface
 *   reaches the neck, and all of it at the water's end
 */
export function findOutflow(
  stand_N: Float64Array,
  rate_Hz: number,
  marks: OutflowMarks,
  bottle: BottleShape,
  gravity_m_s2: number,
): Outflow {
  const neck = Math.min(marks.neck, stand_N.length - 1);
  const steps = Math.max(1, Math.ceil((neck - marks.onset) / (rate_Hz * step_s)));
  const perStep = (neck - marks.onset) / steps;
  const force_N = Float64Array.from({ length: steps }, (_, j) => {
    const at = marks.onset + (j + 0.5) * perStep;
    const i = Math.max(0, Math.min(stand_N.length - 2, Math.floor(at)));
    return stand_N[i]! + (stand_N[i + 1]! - stand_N[i]!) * (at - i);
  });
  const path = new OutflowPath(force_N, perStep / rate_Hz, bottle, gravity_m_s2);
  const slug_kg = Math.min(
    bottle.density_kg_m3 * bottle.opening_m2 * bottle.neckLength_m,
    0.2 * bottle.water_kg,
  );
  const above_kg = marks.neck < marks.waterEnd ? bottle.water_kg - slug_kg : bottle.water_kg;
  const jetArea_m2 = closingArea(path, above_kg, bottle);
  return { ...spread(path, marks, neck, perStep, above_kg, bottle.water_kg, stand_N.length), jetArea_m2 };
}

/** A wider jet lets more water go for the same force: bisection in the logarithm, secants while they help. */
function closingArea(path: OutflowPath, above_kg: number, bottle: BottleShape): number {
  const miss = (logArea: number) => Math.log(Math.max(path.run(Math.exp(logArea)), 1e-12) / above_kg);
  let low = Math.log(bottle.opening_m2 / 50);
  let high = Math.log(Math.min(bottle.opening_m2 * 8, bottle.section_m2 * 0.9));
  let missLow = miss(low);
  let missHigh = miss(high);
  let at = high;
  for (let i = 0; i < rounds && high - low > closeEnough; i++) {
    const secant = low - (missLow * (high - low)) / (missHigh - missLow);
    at = i % 3 < 2 && secant > low && secant < high ? secant : (low + high) / 2;
    const missed = miss(at);
    if (Math.abs(missed) < closeEnough) break;
    if (missed > 0) [high, missHigh] = [at, missed];
    else [low, missLow] = [at, missed];
  }
  path.run(Math.exp(at));
  return Math.exp(at);
}

/** From steps to samples; what the search left open is scaled away, the neck's slug follows evenly. */
function spread(
  path: OutflowPath,
  marks: OutflowMarks,
  neck: number,
  perStep: number,
  above_kg: number,
  water_kg: number,
  count: number,
): { readonly gone_kg: Float64Array; readonly flow_m3_s: Float64Array } {
  const gone_kg = new Float64Array(count);
  const flow_m3_s = new Float64Array(count);
  const last = path.gone_kg.length - 1;
  const scale = above_kg / Math.max(path.gone_kg[last]!, 1e-9);
  const slug = Math.max(1, marks.waterEnd - neck);
  for (let i = Math.max(0, marks.onset); i < count; i++) {
    if (i < neck) {
      const at = (i - marks.onset) / perStep;
      const j = Math.min(last - 1, Math.floor(at));
      gone_kg[i] = scale * (path.gone_kg[j]! + (path.gone_kg[j + 1]! - path.gone_kg[j]!) * (at - j));
      flow_m3_s[i] = path.flow_m3_s[j]! + (path.flow_m3_s[j + 1]! - path.flow_m3_s[j]!) * (at - j);
    } else if (i < marks.waterEnd) {
      gone_kg[i] = above_kg + ((water_kg - above_kg) * (i - neck)) / slug;
      flow_m3_s[i] = path.flow_m3_s[last]!;
    } else gone_kg[i] = water_kg;
  }
  return { gone_kg, flow_m3_s };
}

/** The flow that a force drives through a jet, step by step. */
class OutflowPath {
  readonly gone_kg: Float64Array;
  readonly flow_m3_s: Float64Array;
  readonly #force_N: Float64Array;
  readonly #step_s: number;
  readonly #bottle: BottleShape;
  readonly #gravity_m_s2: number;

  constructor(force_N: Float64Array, step_s: number, bottle: BottleShape, gravity_m_s2: number) {
    this.#force_N = force_N;
    this.#step_s = step_s;
    this.#bottle = bottle;
    this.#gravity_m_s2 = gravity_m_s2;
    this.gone_kg = new Float64Array(force_N.length + 1);
    this.flow_m3_s = new Float64Array(force_N.length + 1);
  }

  /** @returns the mass gone at the end */
  run(area_m2: number): number {
    const { density_kg_m3: rho, section_m2, neckLength_m, water_kg } = this.#bottle;
    const h = this.#step_s;
    const drag = 1 / area_m2 - 1 / section_m2;
    const all_m3 = water_kg / rho;
    let q = 0;
    let out = 0;
    for (let j = 0; j < this.#force_N.length; j++) {
      const thrust = this.#force_N[j]! - Math.min(out, all_m3) * rho * this.#gravity_m_s2;
      const column_m = Math.max(Math.max(all_m3 - out, 0) / section_m2 + neckLength_m, 1e-4);
      // Implicit in the quadratic term: the neck makes the equation stiff when the water is nearly gone.
      // ρ column (q' − q)/h + ρ drag q'² = T, the positive root for q'.
      const inertia = (rho * column_m) / h;
      const right = inertia * q + thrust;
      const next =
        right <= 0 ? 0 : (2 * right) / (inertia + Math.sqrt(inertia ** 2 + 4 * rho * drag * right));
      out += (h * (q + next)) / 2;
      q = next;
      this.gone_kg[j + 1] = out * rho;
      this.flow_m3_s[j + 1] = q;
    }
    return out * rho;
  }
}
