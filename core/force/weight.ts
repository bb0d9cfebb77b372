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

const rounds = 40;
const stepsPerSample_s = 2e-4;

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
  const slug_kg = Math.min(
    bottle.density_kg_m3 * bottle.opening_m2 * bottle.neckLength_m,
    0.2 * bottle.water_kg,
  );
  const above_kg = marks.neck < marks.waterEnd ? bottle.water_kg - slug_kg : bottle.water_kg;
  let low = bottle.opening_m2 / 50;
  let high = Math.min(bottle.opening_m2 * 8, bottle.section_m2 * 0.9);
  const neck = Math.min(marks.neck, stand_N.length - 1);
  let found = integrate(stand_N, rate_Hz, marks.onset, neck, high, bottle, gravity_m_s2);
  for (let i = 0; i < rounds && high / low > 1 + 1e-6; i++) {
    // A wider jet lets more water go for the same force.
    const middle = Math.sqrt(low * high);
    found = integrate(stand_N, rate_Hz, marks.onset, neck, middle, bottle, gravity_m_s2);
    if (found.gone_kg[neck]! > above_kg) high = middle;
    else low = middle;
  }
  const { gone_kg, flow_m3_s } = found;
  const scale = above_kg / Math.max(gone_kg[neck]!, 1e-9);
  const slug = Math.max(1, marks.waterEnd - neck);
  for (let i = 0; i < gone_kg.length; i++) {
    if (i <= neck) gone_kg[i] = gone_kg[i]! * scale;
    else if (i < marks.waterEnd) {
      gone_kg[i] = above_kg + ((bottle.water_kg - above_kg) * (i - neck)) / slug;
      flow_m3_s[i] = flow_m3_s[neck]!;
    } else {
      gone_kg[i] = bottle.water_kg;
      flow_m3_s[i] = 0;
    }
  }
  return found;
}

function integrate(
  stand_N: Float64Array,
  rate_Hz: number,
  onset: number,
  neck: number,
  area_m2: number,
  bottle: BottleShape,
  gravity_m_s2: number,
): Outflow {
  const { density_kg_m3: rho, section_m2, neckLength_m } = bottle;
  const gone = new Float64Array(stand_N.length);
  const flow = new Float64Array(stand_N.length);
  const drag = 1 / area_m2 - 1 / section_m2;
  const sub = Math.max(1, Math.ceil(1 / (rate_Hz * stepsPerSample_s)));
  const h = 1 / (rate_Hz * sub);
  let q = 0;
  let out = 0;
  for (let i = onset; i < stand_N.length; i++) {
    gone[i] = out * rho;
    flow[i] = q;
    if (i >= neck) continue;
    const from = stand_N[i]!;
    const to = stand_N[Math.min(i + 1, stand_N.length - 1)]!;
    for (let s = 0; s < sub; s++) {
      const thrust =
        from + ((to - from) * (s + 0.5)) / sub - Math.min(out * rho, bottle.water_kg) * gravity_m_s2;
      const left_m3 = Math.max(bottle.water_kg / rho - out, 0);
      const column_m = left_m3 / section_m2 + neckLength_m;
      // Implicit in the quadratic term: the neck makes the equation stiff when the water is nearly gone.
      // ρ column (q' − q)/h + ρ drag q'² = T, the positive root for q'.
      const inertia = (rho * Math.max(column_m, 1e-4)) / h;
      const right = inertia * q + thrust;
      const next =
        right <= 0 ? 0 : (2 * right) / (inertia + Math.sqrt(inertia ** 2 + 4 * rho * drag * right));
      out += (h * (q + next)) / 2;
      q = next;
    }
  }
  return { gone_kg: gone, flow_m3_s: flow, jetArea_m2: area_m2 };
}
