import { readingValue } from "../../core/record/reading-value.ts";
import type { Gauge } from "../../core/rig/rig.ts";
import "./drawings.css";

type Props = {
  readonly gauge: Gauge;
  /** What has been typed, as typed: the needle follows it, so that a slipped point is seen. */
  readonly typed: string;
};

const SWEEP_deg = 250;
const PER_UNIT: Record<Gauge["unit"], number> = { bar: 1e5, kPa: 1e3, psi: 6894.757293168361 };

/** The gauge that is meant, with its own name, unit and range; no band on it, so that it primes no answer. */
export function GaugeDial({ gauge, typed }: Props) {
  const reading = readingValue({ kind: "single", typed, unit: gauge.unit, instrument: gauge.id }, "pressure");
  const { min, max } = gauge.range_Pa;
  const turn = (value_Pa: number) => ((value_Pa - min) / (max - min)) * SWEEP_deg - SWEEP_deg / 2;
  const span = (max - min) / PER_UNIT[gauge.unit];
  // Numbers of three digits and more: fewer of them, and nearer to the middle, or they run into one another.
  const wide = max / PER_UNIT[gauge.unit] >= 100;
  const step_Pa = roundStep(span / (wide ? 4 : 6)) * PER_UNIT[gauge.unit];
  const at = (value_Pa: number) => {
    const angle_rad = (turn(value_Pa) * Math.PI) / 180;
    const reach = wide ? 31 : 33;
    return { x: reach * Math.sin(angle_rad), y: -reach * Math.cos(angle_rad) };
  };
  const ticks = Array.from(
    { length: Math.floor((max - min) / step_Pa + 1e-9) + 1 },
    (_, index) => min + index * step_Pa,
  );
  const inRange = reading.ok && reading.value >= min && reading.value <= max;
  return (
    <svg
      class="gauge-dial"
      viewBox="-58 -58 116 116"
      role="img"
      aria-label={`${gauge.name}, in ${gauge.unit}`}
    >
      <circle class="dial-face" r="55" />
      {ticks.map((value_Pa) => (
        <g key={value_Pa}>
          <path class="dial-tick" d="M0 -53V-43" transform={`rotate(${turn(value_Pa)})`} />
          <text {...at(value_Pa)}>{Math.round((value_Pa / PER_UNIT[gauge.unit]) * 10) / 10}</text>
        </g>
      ))}
      {inRange && (
        <path class="dial-needle" d="M-4 8L0 -46L4 8Z" transform={`rotate(${turn(reading.value)})`} />
      )}
      <text class="dial-unit" x="0" y="43">
        {gauge.unit}
      </text>
    </svg>
  );
}

/** 1, 2 or 5 times a power of ten, as dials are graduated. */
const roundStep = (least: number): number => {
  const power = 10 ** Math.floor(Math.log10(least));
  return power * ([1, 2, 5, 10].find((step) => step * power >= least * 0.999) ?? 10);
};
