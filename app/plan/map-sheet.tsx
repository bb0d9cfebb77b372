import { useMemo, useRef } from "preact/hooks";
import type { ShotSetup } from "../../core/exchange/setup-shot.ts";
import { fillOptimum } from "../../core/plan/fill-optimum.ts";
import { performanceMap } from "../../core/plan/performance-map.ts";
import type { DoneRun, Slot } from "../../core/plan/test-matrix.ts";
import { polytropicPrior } from "../../core/propulsion/polytropic-prior.ts";
import { shortNumber } from "../../core/units/value-text.ts";
import { Plot } from "../widgets/plot.tsx";
import type { PlotFrame } from "../widgets/plot-spec.ts";
import { inUnit, type UnitChoice, unitScale } from "../widgets/unit-choice.ts";
import {
  mapAxes,
  mapFrameSpec,
  mapGrids,
  mapSpec,
  mapTable,
  type Shown,
  shownQuantities,
} from "./plan-map.ts";
import type { PlanKey } from "./plan-numbers.ts";
import { useSettled } from "./use-plan.ts";

export type MapSheetProps = {
  readonly setup: ShotSetup;
  readonly limit_Pa: number;
  readonly units: UnitChoice;
  readonly shown: Shown;
  readonly runs: readonly DoneRun[];
  readonly toRun: readonly Slot[];
  readonly onShown: (shown: Shown) => void;
  readonly onNumber: (key: PlanKey, value: number) => void;
};

const leastFill = 0.04;
const greatestFill = 0.96;

/** The map, the point on it, and the sliders that move the one and redraw the other. */
export function MapSheet(props: MapSheetProps) {
  const { setup, limit_Pa, units, shown, runs, toRun } = props;
  const density_kg_m3 = setup.waterDensity_kg_m3;
  const { water_kg: _water, setPressure_Pa: _pressure, ...rest } = setup;
  const restKey = JSON.stringify(rest);
  const resting = useSettled(restKey) === restKey;
  const grid = resting ? mapGrids.resting : mapGrids.moving;
  const axes = useMemo(
    () => mapAxes(setup.bottleVolume_m3 * density_kg_m3, limit_Pa, grid),
    [setup.bottleVolume_m3, density_kg_m3, limit_Pa, grid],
  );
  // The map holds for every fill and pressure.
  const map = useMemo(() => performanceMap(setup, axes), [restKey, axes]);
  const view = { map, shown, units, density_kg_m3, limit_Pa };
  const under = useMemo(() => mapSpec(view), [map, shown, units]);
  const spec = useMemo(
    () => mapFrameSpec({ ...view, map: axes, runs, toRun }),
    // The grid's fineness moves no end of the axes.
    [setup.bottleVolume_m3, density_kg_m3, limit_Pa, shown, units, runs, toRun],
  );
  const best = useMemo(
    () => (resting ? bestFill(setup, shown) : undefined),
    [resting, restKey, setup.setPressure_Pa, shown],
  );

  return (
    <section class="sheet" aria-labelledby="map-title">
      <h2 id="map-title">
        {shown.label} over fill and pressure, {shown.unit}
      </h2>
      <fieldset class="button-row no-print">
        <legend class="unseen">Quantity on the map</legend>
        {shownQuantities.map((one) => (
          <button
            key={one.key}
            type="button"
            class="button small"
            aria-pressed={one.key === shown.key}
            onClick={() => props.onShown(one)}
          >
            {one.label}
          </button>
        ))}
      </fieldset>
      <Plot
        spec={spec}
        under={under}
        table={() => mapTable(view)}
        over={(frame) => <Point frame={frame} best={best} {...props} />}
      />
      <Legend hasRuns={runs.length > 0} hasPlanned={toRun.length > 0} hasBest={best !== undefined} />
      <Sliders {...props} />
    </section>
  );
}

/** Only what has a best fill is given one; thrust and duration have none. */
function bestFill(setup: ShotSetup, shown: Shown) {
  if (shown.key !== "impulse_Ns" && shown.key !== "specificImpulse_s" && shown.key !== "jetEnergy_J")
    return undefined;
  const full_kg = setup.bottleVolume_m3 * setup.waterDensity_kg_m3;
  const found = fillOptimum(setup, shown.key, {
    least_kg: leastFill * full_kg,
    greatest_kg: greatestFill * full_kg,
  });
  if (!found.ok || found.value.at !== "inside") return undefined;
  return { water_kg: found.value.water_kg };
}

/** The chosen point as a crosshair; a click or a drag on the map moves it. Keys move it through the sliders. */
function Point(
  props: MapSheetProps & {
    readonly frame: PlotFrame;
    readonly best: { readonly water_kg: number } | undefined;
  },
) {
  const { frame, setup, units, best } = props;
  const area = useRef<HTMLDivElement>(null);
  const perX = unitScale("water", units, setup.waterDensity_kg_m3);
  const perY = unitScale("pressure", units);
  const x_px = frame.x.toPixel(setup.water_kg / perX) - frame.left_px;
  const y_px = frame.y.toPixel(setup.setPressure_Pa / perY) - frame.top_px;
  const width_px = frame.right_px - frame.left_px;
  const height_px = frame.bottom_px - frame.top_px;
  const move = (event: PointerEvent) => {
    if (event.buttons !== 1 || !area.current) return;
    const box = area.current.getBoundingClientRect();
    const inside = (value: number, [low, high]: readonly [number, number]) =>
      Math.min(high, Math.max(low, value));
    const x = inside(frame.x.toValue(frame.left_px + event.clientX - box.left), frame.x.domain);
    const y = inside(frame.y.toValue(frame.top_px + event.clientY - box.top), frame.y.domain);
    props.onNumber("water_kg", rounded(x) * perX);
    props.onNumber("setPressure_Pa", Math.min(rounded(y) * perY, props.limit_Pa));
  };
  return (
    <div
      ref={area}
      class="plan-point-area"
      style={{
        left: `${frame.left_px}px`,
        top: `${frame.top_px}px`,
        width: `${width_px}px`,
        height: `${height_px}px`,
      }}
      onPointerDown={(event) => {
        event.currentTarget.setPointerCapture(event.pointerId);
        move(event);
      }}
      onPointerMove={move}
    >
      <svg width={width_px} height={height_px} aria-hidden="true">
        <line class="crosshair" x1={x_px} x2={x_px} y1={0} y2={height_px} />
        <line class="crosshair" x1={0} x2={width_px} y1={y_px} y2={y_px} />
        <circle class="crosshair-point" cx={x_px} cy={y_px} r={8} />
        {best && (
          <path
            class="best-point"
            d={`M${frame.x.toPixel(best.water_kg / perX) - frame.left_px},${y_px}m-8,0h16m-8,-8v16`}
          />
        )}
      </svg>
    </div>
  );
}

/** A point set by hand is worth three digits. */
const rounded = (value: number) => Number(value.toPrecision(3));

function Legend(props: {
  readonly hasRuns: boolean;
  readonly hasPlanned: boolean;
  readonly hasBest: boolean;
}) {
  return (
    <p class="legend">
      <span class="key-chosen">the point below</span>
      {props.hasBest && <span class="key-best">best fill at its pressure</span>}
      {props.hasRuns && <span class="key-done">runs done</span>}
      {props.hasPlanned && <span class="key-planned">still to run</span>}
      <span class="key-limit">above the limit: not to be run</span>
    </p>
  );
}

function Sliders(props: MapSheetProps) {
  const { setup, units, limit_Pa } = props;
  const full_kg = setup.bottleVolume_m3 * setup.waterDensity_kg_m3;
  const prior = polytropicPrior(setup.airTemperature_C);
  const exponent = setup.polytropicExponent ?? prior.mean;
  return (
    <div class="plan-sliders no-print">
      <Slider
        label="Water"
        value={setup.water_kg}
        least={leastFill * full_kg}
        greatest={greatestFill * full_kg}
        text={`${inUnit(setup.water_kg, "water", units, setup.waterDensity_kg_m3)}, ${Math.round((100 * setup.water_kg) / full_kg)} % of the bottle`}
        onValue={(value) => props.onNumber("water_kg", value)}
      />
      <Slider
        label="Set pressure"
        value={setup.setPressure_Pa}
        least={20_000}
        greatest={limit_Pa}
        text={inUnit(setup.setPressure_Pa, "pressure", units)}
        onValue={(value) => props.onNumber("setPressure_Pa", value)}
      />
      <Slider
        label="Exponent of the air"
        value={exponent}
        least={1}
        greatest={1.4}
        text={`${shortNumber(exponent, 3)}${setup.polytropicExponent === undefined ? ", the prior's mean" : ""}`}
        onValue={(value) => props.onNumber("polytropicExponent", value)}
      />
    </div>
  );
}

type SliderProps = {
  readonly label: string;
  readonly value: number;
  readonly least: number;
  readonly greatest: number;
  readonly text: string;
  readonly onValue: (value: number) => void;
};

const steps = 200;
/** A step of the finest slider shows in the fourth digit. */
const digits = 4;

function Slider({ label, value, least, greatest, text, onValue }: SliderProps) {
  const step = (greatest - least) / steps;
  return (
    <label class="plan-slider">
      <span>
        {label} <b>{text}</b>
      </span>
      <input
        type="range"
        min={0}
        max={steps}
        step={1}
        value={Math.round((value - least) / step)}
        aria-valuetext={text}
        onInput={(event) =>
          onValue(Number((least + Number(event.currentTarget.value) * step).toPrecision(digits)))
        }
      />
    </label>
  );
}
