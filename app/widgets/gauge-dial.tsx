import { readingValue } from "../../core/record/reading-value.ts";
import type { Gauge } from "../../core/rig/rig.ts";

type Props = {
  readonly gauge: Gauge;
  /** What has been typed, as typed: the needle follows it, so that a slipped point is seen. */
  readonly typed: string;
};

const SWEEP_deg = 270;
const PER_UNIT: Record<Gauge["unit"], number> = { bar: 1e5, kPa: 1e3, psi: 6894.757293168361 };

/** The gauge that is meant, with its own name, unit and range; no band on it, so that it primes no answer. */
export function GaugeDial({ gauge, typed }: Props) {
  const reading = readingValue({ kind: "single", typed, unit: gauge.unit, instrument: gauge.id }, "pressure");
  const { min, max } = gauge.range_Pa;
  const turn = (value_Pa: number) => ((value_Pa - min) / (max - min)) * SWEEP_deg - SWEEP_deg / 2;
  const ticks = Array.from({ length: 6 }, (_, index) => min + ((max - min) * index) / 5);
  const inRange = reading.ok && reading.value >= min && reading.value <= max;
  return (
    <svg
      class="gauge-dial"
      viewBox="-60 -58 120 106"
      role="img"
      aria-label={`${gauge.name}, in ${gauge.unit}`}
    >
      <circle class="dial-face" r="55" />
      {ticks.map((value_Pa) => (
        <g key={value_Pa} transform={`rotate(${turn(value_Pa)})`}>
          <path class="dial-tick" d="M0 -53V-43" />
          <text y="-28" transform={`rotate(${-turn(value_Pa)} 0 -32)`}>
            {Math.round((value_Pa / PER_UNIT[gauge.unit]) * 10) / 10}
          </text>
        </g>
      ))}
      {inRange && (
        <path class="dial-needle" d="M-4 8L0 -46L4 8Z" transform={`rotate(${turn(reading.value)})`} />
      )}
      <text class="dial-unit" y="36">
        {gauge.unit}
      </text>
    </svg>
  );
}
