import { findStep, type Procedure } from "../procedure/procedure.ts";
import type { Rig } from "../rig/rig.ts";
import type { Entry } from "./entry.ts";
import { readingValue } from "./reading-value.ts";

/** A run as its documents and its log have it, wherever it is kept. */
export type LoggedRun = {
  readonly rig: Rig;
  readonly procedure: Procedure;
  readonly entries: readonly Pick<Entry, "seq" | "at" | "event">[];
};

/** What a run's log says of its shot. What it does not know is undefined. */
export type RunConditions = {
  readonly drill: boolean;
  readonly openedAt_ms: number;
  /** Undefined where nobody saw it go. */
  readonly released_ms: number | undefined;
  readonly crew: string | undefined;
  readonly water_kg: number | undefined;
  /** Gauge. */
  readonly setPressure_Pa: number | undefined;
  readonly waterTemperature_C: number | undefined;
  /** Gauge. */
  readonly supply_Pa: number | undefined;
  readonly notes: readonly string[];
};

/**
 * The conditions that a run went by: what was weighed and read last before a release that was seen,
 * and who conducted. An entry that a later one corrects counts for nothing.
 */
export const runConditions = ({ rig, procedure, entries }: LoggedRun): RunConditions => {
  const struck = new Set(entries.map(({ event }) => (event.type === "corrected" ? event.entry : -1)));
  const standing = entries.filter(({ seq }) => !struck.has(seq));
  const released = standing.findIndex(({ event }) => event.type === "released");
  const read: {
    water_kg?: number;
    setPressure_Pa?: number;
    waterTemperature_C?: number;
    supply_Pa?: number;
  } = {};
  for (const { event } of released < 0 ? standing : standing.slice(0, released)) {
    if (event.type !== "step-done" || event.reading === undefined) continue;
    const step = findStep(procedure, event.step)?.step;
    if (step?.form.kind !== "measure") continue;
    const value = readingValue(event.reading, step.form.quantity);
    if (!value.ok) continue;
    if (step.proves.includes("water-measured")) read.water_kg = value.value;
    if (step.proves.includes("at-pressure")) read.setPressure_Pa = value.value;
    if (step.form.quantity === "temperature") read.waterTemperature_C = value.value;
    if (step.form.instrument === rig.supply.gauge) read.supply_Pa = value.value;
  }
  const opened = entries[0];
  const { water_kg, setPressure_Pa, waterTemperature_C, supply_Pa } = read;
  return {
    drill: opened?.event.type === "opened" && opened.event.drill,
    openedAt_ms: opened?.at ?? 0,
    released_ms: standing[released]?.at,
    crew: crewOf(standing),
    water_kg,
    setPressure_Pa,
    waterTemperature_C,
    supply_Pa,
    notes: standing.flatMap(({ event }) => (event.type === "noted" ? [event.text] : [])),
  };
};

/** People's codes begin with their crew's letter; a code without a number is a crew of its own. */
const crewOf = (entries: LoggedRun["entries"]): string | undefined => {
  for (const { event } of entries)
    if (event.type === "signed-on" && event.role === "conductor")
      return /^([A-Z]+)\d+$/.exec(event.person)?.[1] ?? event.person;
  return undefined;
};
