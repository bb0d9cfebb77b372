import { parseSetup } from "../../core/exchange/setup.ts";
import { evenly, performanceMap } from "../../core/plan/performance-map.ts";
import { predict } from "../../core/propulsion/prediction.ts";
import { type Bench, type Measured, measure } from "./measure.ts";

/** One prediction takes microseconds, less than a clock tells well: many are timed together. */
const together = 1000;

/**
 * One prediction with all outputs, throw and uncertainty among them, and the 40 × 40 map of all
 * outputs. Peers: a scipy quadrature pair, and scipy's map of impulse and time alone.
 */
export const benchPredict: Bench = async () => {
  const parsed = parseSetup(
    {
      water_kg: 1,
      setPressure_Pa: 275_790,
      bottleVolume_m3: 0.002,
      openingDiameter_m: 0.0217,
      polytropicExponent: 1.25,
    },
    "predict",
  );
  if (!parsed.ok) throw new Error("the bench's own setup is refused");
  const { setup } = parsed.value;
  const withThrow = { ...setup, bottleDiameter_m: 0.1, headOfWater: true, ridingMass_kg: 1.5 };
  const axes = { water_kg: evenly(0.4, 1.4, 40), setPressure_Pa: evenly(1.5e5, 5e5, 40) };
  return [
    each(
      await measure(
        "predict: one, all outputs",
        30,
        many(() => predict(setup)),
      ),
    ),
    each(
      await measure(
        "predict: one, with head and throw",
        30,
        many(() => predict(withThrow)),
      ),
    ),
    await measure("predict: 40 × 40 map of all outputs", 30, () => performanceMap(setup, axes)),
  ];
};

const many = (work: () => unknown) => () => {
  let last: unknown;
  for (let i = 0; i < together; i++) last = work();
  return last;
};

const each = ({ name, median_s, p95_s, runs }: Measured): Measured => ({
  name,
  median_s: median_s / together,
  p95_s: p95_s / together,
  runs: runs * together,
});
