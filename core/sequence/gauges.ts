import { findStep, stepsOf } from "../procedure/procedure.ts";
import { readingValue } from "../record/reading-value.ts";
import { findGauge, isOnBottle, isOnSupply, tellsOfEmptiness } from "../rig/gauge-side.ts";
import type { Context, Doc, Snapshot } from "./context.ts";
import { isGood } from "./good-answer.ts";
import { isCold, isLive, STATES, type StateId } from "./states.ts";
import type { SequenceEvent } from "./vocabulary.ts";

/** What readings of pressure say of the bottle, whether a step asked for them or somebody just said so. */

/** `value_Pa` is missing where what was typed is no pressure. */
type PressureRead = { readonly gauge: string; readonly value_Pa: number | undefined };

const pressureRead = (doc: Doc, event: SequenceEvent): PressureRead | undefined => {
  const form = event.type === "step-done" ? findStep(doc.procedure, event.step)?.step.form : undefined;
  const asked = form?.kind === "measure" && form.quantity === "pressure" ? form.instrument : undefined;
  const gauge = event.type === "gauge-read" ? event.gauge : asked;
  if (gauge === undefined || !("reading" in event) || !event.reading) return undefined;
  const value = readingValue(event.reading, "pressure");
  return { gauge, value_Pa: value.ok ? value.value : undefined };
};

/** Air in what was shown empty, or is about to be: more than what the pointer shows at rest. */
export const showsPressure = (doc: Doc, event: SequenceEvent): boolean => {
  const read = pressureRead(doc, event);
  return (
    read?.value_Pa !== undefined &&
    tellsOfEmptiness(doc.rig, read.gauge) &&
    read.value_Pa > (findGauge(doc.rig, read.gauge)?.zeroWithin_Pa ?? 0)
  );
};

/** A reading that leads to making safe by itself: over the bottle's limit, or air where there must be none. */
export const isAlarm = (doc: Doc, state: StateId, event: SequenceEvent): boolean => {
  const read = pressureRead(doc, event);
  if (read?.value_Pa === undefined || isOnSupply(doc.rig, read.gauge)) return false;
  if (isLive(state)) return read.value_Pa > doc.rig.bottle.limit_Pa;
  // While cold the line may hold air behind a shut outlet: only the bottle's own side tells.
  return showsPressure(doc, event) && (!isCold(state) || isOnBottle(doc.rig, read.gauge));
};

const isInside = ({ rig }: Doc, state: StateId, { gauge, value_Pa }: PressureRead): boolean => {
  if (value_Pa === undefined) return false;
  if (gauge === rig.supply.gauge)
    return value_Pa >= rig.supply.workingMin_Pa && value_Pa <= rig.supply.workingMax_Pa;
  // Once charged and shut off, the bottle's own gauge has no business to move.
  const settled = isLive(state) && state !== "charging" && isOnBottle(rig, gauge);
  const { set_Pa, tolerance_Pa } = rig.pressure;
  return settled ? Math.abs(value_Pa - set_Pa) <= tolerance_Pa : value_Pa <= rig.bottle.limit_Pa;
};

/** The instruments whose last word lay outside: a step's by its band, any other by the rig's limits. */
export const nextOutside = (
  doc: Doc,
  { state, context }: Snapshot,
  event: SequenceEvent,
): readonly string[] => {
  const judge = (instrument: string, inside: boolean): readonly string[] => {
    const others = context.outside.filter((name) => name !== instrument);
    return inside ? others : [...others, instrument];
  };
  if (event.type === "step-done") {
    const step = findStep(doc.procedure, event.step)?.step;
    return step?.form.kind === "measure"
      ? judge(step.form.instrument, isGood(doc, step, event))
      : context.outside;
  }
  const read = pressureRead(doc, event);
  return read ? judge(read.gauge, isInside(doc, state, read)) : context.outside;
};

/** A cold phase that begins again has its own instruments read again, and those of the phases up to the air. */
export const stillOutside = (doc: Doc, entered: StateId, outside: readonly string[]): readonly string[] => {
  const ahead = isCold(entered) ? STATES.slice(STATES.indexOf(entered)).filter(isCold) : [];
  const measured = ahead
    .flatMap((phase) => stepsOf(doc.procedure, phase))
    .flatMap(({ form }) => (form.kind === "measure" ? [form.instrument] : []));
  return outside.filter((instrument) => !measured.includes(instrument));
};

/** What the gauges behind the supply showed in this charging: two on one air must agree. */
export const nextReadings = (
  doc: Doc,
  { state, context }: Snapshot,
  event: SequenceEvent,
): Context["readings"] => {
  const read = state === "charging" ? pressureRead(doc, event) : undefined;
  if (read?.value_Pa === undefined || isOnSupply(doc.rig, read.gauge)) return context.readings;
  return { ...context.readings, [read.gauge]: read.value_Pa };
};

export const gaugesAgree = (doc: Doc, readings: Context["readings"]): boolean => {
  const values_Pa = Object.values(readings);
  const spread_Pa = Math.max(0, ...values_Pa.map((a) => Math.max(...values_Pa.map((b) => a - b))));
  return spread_Pa <= doc.rig.limits.gaugesAgree_Pa;
};
