/**
 * SYNTHETIC shots: thrust and weight gone over time, from the equations of docs/model.md with the
 * unsteady terms kept (start spike, neck), which the reduction under test does not integrate itself.
 */
export const gravity_m_s2 = 9.80665;
const air_J_kgK = 287.05287;
const gamma = 1.4;

export type ShotConditions = {
  readonly water_kg: number;
  readonly gauge_Pa: number;
  readonly bottle_m3: number;
  readonly opening_m: number;
  readonly bottleDiameter_m: number;
  readonly neck_m: number;
  readonly density_kg_m3: number;
  readonly ambient_Pa: number;
  readonly exponent: number;
  readonly release_s: number;
  /** How the water ends: as a slug in the neck, or with its last part spraying out with the air. */
  readonly waterEnd: "slug" | "spray";
};

/** One shot on a fine, even grid from the moment of release. */
export type Shot = {
  readonly step_s: number;
  readonly thrust_N: Float64Array;
  readonly gone_kg: Float64Array;
  readonly impulse_Ns: number;
  readonly waterEnd_s: number;
  readonly end_s: number;
  /** Force on the sealed bottle's opening, gauge pressure times area. */
  readonly seal_N: number;
  readonly jetEnergy_J: number;
};

export function waterShot(c: ShotConditions, step_s: number): Shot {
  const area_m2 = (Math.PI / 4) * c.opening_m ** 2;
  const section_m2 = (Math.PI / 4) * c.bottleDiameter_m ** 2;
  const air0_m3 = c.bottle_m3 - c.water_kg / c.density_kg_m3;
  const p0_Pa = c.ambient_Pa + c.gauge_Pa;
  const neck_m3 = area_m2 * c.neck_m;
  const thrust: number[] = [];
  const gone: number[] = [];
  const rho = c.density_kg_m3;

  const pressure = (air_m3: number) => p0_Pa * (air0_m3 / air_m3) ** c.exponent;
  /** Bernoulli along the column, with the pull of the leaving stopper ramping away over the release. */
  const flow = (t: number, air_m3: number, q: number) => {
    const left_m3 = Math.max(c.bottle_m3 - air_m3, 0);
    const inNeck = left_m3 < neck_m3;
    const height_m = inNeck ? 0 : (left_m3 - neck_m3) / section_m2;
    const column_m = inNeck ? Math.max(left_m3 / area_m2, 1e-3) : height_m + c.neck_m;
    const inertia = inNeck ? column_m / area_m2 : height_m / section_m2 + c.neck_m / area_m2;
    const sigma = inNeck ? 1 : area_m2 / section_m2;
    const opened = c.release_s > 0 ? Math.min(1, t / c.release_s) : 1;
    const drive_Pa = opened * (pressure(air_m3) - c.ambient_Pa + rho * gravity_m_s2 * column_m);
    const rate = (drive_Pa - 0.5 * rho * (q / area_m2) ** 2 * (1 - sigma ** 2)) / (rho * inertia);
    return { rate, thrust_N: ((rho * q * q) / area_m2) * (1 - sigma) + rho * column_m * rate };
  };

  let air_m3 = air0_m3;
  let q = 0;
  let t = 0;
  let jetEnergy_J = 0;
  while (air_m3 < c.bottle_m3 - 1e-9 && t < 2) {
    thrust.push(flow(t, air_m3, q).thrust_N);
    gone.push(rho * (air_m3 - air0_m3));
    const h = step_s;
    const k1 = flow(t, air_m3, q).rate;
    const k2 = flow(t + h / 2, air_m3 + (h / 2) * q, q + (h / 2) * k1).rate;
    const k3 = flow(t + h / 2, air_m3 + (h / 2) * (q + (h / 2) * k1), q + (h / 2) * k2).rate;
    const k4 = flow(t + h, air_m3 + h * (q + (h / 2) * k2), q + h * k3).rate;
    air_m3 += h * (q + (h / 6) * (k1 + k2 + k3));
    jetEnergy_J += (0.5 * rho * Math.abs(q) ** 3 * h) / area_m2 ** 2;
    q += (h / 6) * (k1 + 2 * k2 + 2 * k3 + k4);
    t += h;
    if (q <= 0 && t > 2 * c.release_s) break;
  }
  const waterEnd_s = t;
  const left_kg = Math.max(0, rho * (c.bottle_m3 - air_m3));
  const waterThrust_N = thrust.at(-1)!;
  const air = airThrust(c, pressure(c.bottle_m3), air0_m3, p0_Pa, area_m2, step_s);
  // Funnel and break-through: the hand-over takes a few milliseconds and carries some water with it.
  const smear_s = c.waterEnd === "spray" ? 3e-3 : 0;
  for (let i = 0; i < air.length; i++) {
    const fade = smear_s > 0 ? Math.exp(-(i * step_s) / smear_s) : 0;
    thrust.push(air[i]! * (1 - fade) + waterThrust_N * fade);
    gone.push(c.water_kg - left_kg);
  }
  if (c.waterEnd === "spray") sprayLast(gone, step_s, 0.02 * c.water_kg);
  return finished(thrust, gone, step_s, waterEnd_s, area_m2 * c.gauge_Pa, jetEnergy_J);
}

/** The last part of the water leaves late, with the air, and weighs on the stand until then. */
function sprayLast(gone: number[], step_s: number, late_kg: number) {
  const all = gone.at(-1)!;
  const from = gone.findIndex((kg) => kg > all - late_kg);
  for (let i = from; i < gone.length; i++) {
    gone[i] = Math.min(gone[i]!, all - late_kg * Math.exp(-((i - from) * step_s) / 6e-3));
  }
}

/** Air blowing down through the opening: isentropic vessel, converging opening. */
function airThrust(
  c: ShotConditions,
  p1_Pa: number,
  air0_m3: number,
  p0_Pa: number,
  area_m2: number,
  step_s: number,
): number[] {
  const thrust: number[] = [];
  let mass = (p0_Pa * air0_m3) / (air_J_kgK * 293.15);
  let temperature = (p1_Pa * c.bottle_m3) / (mass * air_J_kgK);
  for (let i = 0; i < 100_000; i++) {
    const p = (mass * air_J_kgK * temperature) / c.bottle_m3;
    const ratio = c.ambient_Pa / p;
    if (ratio > 1 - 2e-5) break;
    const choked = ratio <= (2 / (gamma + 1)) ** (gamma / (gamma - 1));
    const exit_Pa = choked ? p * (2 / (gamma + 1)) ** (gamma / (gamma - 1)) : c.ambient_Pa;
    const speed = choked
      ? Math.sqrt((2 * gamma * air_J_kgK * temperature) / (gamma + 1))
      : Math.sqrt(
          ((2 * gamma) / (gamma - 1)) * air_J_kgK * temperature * (1 - ratio ** ((gamma - 1) / gamma)),
        );
    const flow = choked
      ? area_m2 *
        p *
        Math.sqrt(gamma / (air_J_kgK * temperature)) *
        (2 / (gamma + 1)) ** ((gamma + 1) / (2 * (gamma - 1)))
      : area_m2 * (p / (air_J_kgK * temperature)) * ratio ** (1 / gamma) * speed;
    thrust.push(flow * speed + area_m2 * (exit_Pa - c.ambient_Pa));
    temperature -= ((gamma - 1) * temperature * flow * step_s) / mass;
    mass -= flow * step_s;
  }
  return thrust;
}

export const strangeShapes = [
  "half-sine",
  "rectangle",
  "triangle",
  "two humps",
  "exponential",
  "staircase",
] as const;
export type StrangeShape = (typeof strangeShapes)[number];

/** A pulse that no bottle gives, whose weight leaves as the square root of thrust or evenly in time. */
export function strangeShot(
  shape: StrangeShape,
  impulse_Ns: number,
  duration_s: number,
  water_kg: number,
  evenly: boolean,
  step_s: number,
): Shot {
  const n = Math.round((duration_s * (shape === "exponential" ? 6 : 1)) / step_s);
  const thrust = Array.from({ length: n }, (_, i) => strange(shape, (i * step_s) / duration_s));
  const area = thrust.reduce((a, b) => a + b, 0) * step_s;
  for (let i = 0; i < n; i++) thrust[i] = (thrust[i]! * impulse_Ns) / area;
  const speed = thrust.map((x) => (evenly ? 1 : Math.sqrt(x)));
  const total = speed.reduce((a, b) => a + b, 0);
  let sum = 0;
  const gone = speed.map((x) => {
    sum += x;
    return (water_kg * sum) / total;
  });
  return finished(thrust, gone, step_s, n * step_s, 0, 0);
}

function strange(shape: StrangeShape, x: number): number {
  if (shape === "exponential") return Math.exp(-x);
  if (x < 0 || x > 1) return 0;
  switch (shape) {
    case "half-sine":
      return Math.sin(Math.PI * x);
    case "rectangle":
      return 1;
    case "triangle":
      return 1 - x;
    case "two humps":
      return 0.15 + Math.sin(2 * Math.PI * x) ** 2;
    case "staircase":
      return 1 - Math.floor(x * 4) / 5;
  }
}

function finished(
  thrust: number[],
  gone: number[],
  step_s: number,
  waterEnd_s: number,
  seal_N: number,
  jetEnergy_J: number,
): Shot {
  let impulse_Ns = 0;
  for (const x of thrust) impulse_Ns += x * step_s;
  // A rectangle rule counts the first sample whole; the record starts from zero there.
  impulse_Ns -= (thrust[0]! / 2) * step_s;
  return {
    step_s,
    thrust_N: Float64Array.from(thrust),
    gone_kg: Float64Array.from(gone),
    impulse_Ns,
    waterEnd_s,
    end_s: thrust.length * step_s,
    seal_N,
    jetEnergy_J,
  };
}
