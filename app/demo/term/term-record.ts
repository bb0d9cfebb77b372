import type { ShotSetup } from "../../../core/exchange/setup-shot.ts";
import { thrustCurve } from "../../../core/propulsion/thrust-curve.ts";
import { waterDensity_kg_m3 } from "../../../core/propulsion/water-density.ts";
import type { Rig } from "../../../core/rig/rig.ts";
import { type Chance, chance } from "./chance.ts";
import { type TermRun, termSeed } from "./term-plan.ts";

/** A SYNTHETIC force record: the physics of the run as it truly was, seen through a ringing stand and a recorder. */

const rate_Hz = 2000;
/** Steps of the ringing stand for each sample. */
const finer = 20;
const step_s = 1 / (rate_Hz * finer);
const ring_Hz = 180;
const damping = 0.03;
const noise_N = 0.15;
const share = 0.53;
/** How long the slide takes to uncover the opening. */
const opening_s = 0.002;
const gravity_m_s2 = 9.81;
const velocityCoefficient = 0.985;
const beforeOnset_s = 1.1;
export const shotLength_s = 2.6;

type Load = { readonly force_N: Float64Array };

/** One record with one or several runs in it, one after another. */
export function recordText(runs: readonly TermRun[], rig: Rig, header: readonly string[]): string {
  const luck = chance(termSeed + 1000 * (runs[0]!.number + 1));
  const load = loadOf(runs, rig, luck);
  const stand = ringing(load.force_N);
  const channels = [share, 1 - share].map((part, k) => {
    const tau = rig.channels[k]!.dischargeTime_s;
    return sensed(stand, part, typeof tau === "number" ? tau : Number.POSITIVE_INFINITY, luck);
  });
  const lines = [...header, `time_s,${rig.channels.map(({ column }) => column).join(",")}`];
  for (let i = 0; i < channels[0]!.length; i++) {
    lines.push(`${(i / rate_Hz).toFixed(4)},${channels.map((c) => c[i]!.toFixed(3)).join(",")}`);
  }
  return `${lines.join("\n")}\n`;
}

/** Thrust and the weight that left, on the fine grid. */
function loadOf(runs: readonly TermRun[], rig: Rig, luck: Chance): Load {
  const force_N = new Float64Array(Math.round((runs.length * shotLength_s) / step_s));
  for (const [k, run] of runs.entries()) {
    const setup = trueShot(run, rig);
    const curve = thrustCurve(setup, { unsteady: true });
    if (!curve.ok) throw new Error(curve.issues.map(({ detail }) => detail).join("; "));
    const { t_s, thrust_N, water_kg, end_s } = curve.value;
    const onset_s = k * shotLength_s + beforeOnset_s + luck.between(0, 0.2);
    let node = 0;
    for (let i = Math.ceil(onset_s / step_s); i < force_N.length; i++) {
      const t = i * step_s - onset_s;
      while (node < t_s.length - 2 && t_s[node + 1]! < t) node += 1;
      const part = Math.min(1, (t - t_s[node]!) / (t_s[node + 1]! - t_s[node]! || 1));
      const at = (values: Float64Array) => values[node]! * (1 - part) + values[node + 1]! * part;
      const thrust = t > end_s ? 0 : at(thrust_N);
      force_N[i] = force_N[i]! + thrust + gravity_m_s2 * (setup.water_kg - at(water_kg));
    }
  }
  return { force_N: averaged(force_N, Math.round(opening_s / step_s)) };
}

export function trueShot(run: TermRun, rig: Rig): ShotSetup {
  return {
    water_kg: run.truth.water_kg,
    setPressure_Pa: run.truth.pressure_Pa,
    bottleVolume_m3: rig.bottle.capacity_m3,
    openingDiameter_m: rig.opening.diameter_m,
    bottleDiameter_m: rig.bottle.diameter_m ?? 0.1,
    neckLength_m: rig.opening.neckLength_m ?? 0,
    neckDiameter_m: rig.opening.diameter_m,
    ambientPressure_Pa: 101_325,
    waterDensity_kg_m3: waterDensity_kg_m3(run.truth.water_C),
    airTemperature_C: run.truth.water_C,
    polytropicExponent: run.truth.exponent,
    contraction: 1,
    velocityCoefficient,
    headOfWater: true,
    gravity_m_s2,
    stopperHeld: "inside",
  };
}

/** Mean over the last `width` points: an opening that is uncovered evenly in time. */
function averaged(values: Float64Array, width: number): Float64Array {
  const mean = new Float64Array(values.length);
  let sum = 0;
  for (let i = 0; i < values.length; i++) {
    sum += values[i]! - (i >= width ? values[i - width]! : 0);
    mean[i] = sum / width;
  }
  return mean;
}

/** The frame as one damped mode with unit gain at rest, exact for a force held over each step. */
function ringing(force_N: Float64Array): Float64Array {
  const omega = 2 * Math.PI * ring_Hz;
  const damped = omega * Math.sqrt(1 - damping ** 2);
  const decay = Math.exp(-damping * omega * step_s);
  const [cos, sin] = [Math.cos(damped * step_s), Math.sin(damped * step_s)];
  const felt = new Float64Array(force_N.length);
  let [x, v] = [0, 0];
  for (let i = 0; i < force_N.length; i++) {
    const off = x - force_N[i]!;
    const lean = (v + damping * omega * off) / damped;
    x = force_N[i]! + decay * (off * cos + lean * sin);
    v = decay * (v * cos - ((damping * omega * v + omega ** 2 * off) / damped) * sin);
    felt[i] = x;
  }
  return felt;
}

/** One charge-coupled sensor at the recorder's rate: its share, its droop, its offset and noise. */
function sensed(stand: Float64Array, part: number, discharge_s: number, luck: Chance): Float64Array {
  const out = new Float64Array(Math.floor(stand.length / finer));
  const keep = Math.exp(-step_s / discharge_s);
  const offset_N = luck.between(-0.6, 0.6);
  let low = 0;
  for (let i = 0; i < out.length * finer; i++) {
    const x = part * stand[i]!;
    low = keep * low + (1 - keep) * x;
    if (i % finer === finer - 1) out[(i - finer + 1) / finer] = x - low + offset_N + noise_N * luck.normal();
  }
  return out;
}
