import { PHASES, type Procedure, type RigNumber, type Step } from "../procedure/procedure.ts";
import { rigBand, scaleOf, withRigNumbers } from "../procedure/rig-numbers.ts";
import { failed, type Issue, issue, ok, type Result } from "../result.ts";
import { parseRig } from "../rig/parse-rig.ts";
import type { Rig } from "../rig/rig.ts";
import type { Slot } from "./test-matrix.ts";

/**
 * A planned shot becomes the rig of its run: the crew is asked for its water and its pressure, the
 * kernel judges by them, and the run file, which holds its rig whole, says what was planned.
 */
export type Shot = Pick<Slot, "water_kg" | "setPressure_Pa">;

/**
 * The rig with the shot's water and set pressure in place of its own; tolerances and limits stay the owner's.
 * @fails what `parseRig` refuses: a pressure above the bottle's limit or beyond the supply, water that
 *   leaves no air, and whatever else the rig then contradicts
 */
export const rigForShot = (rig: Rig, { water_kg, setPressure_Pa }: Shot): Result<Rig> =>
  parseRig({
    ...rig,
    fill: { ...rig.fill, water_kg },
    pressure: { ...rig.pressure, set_Pa: setPressure_Pa },
  });

/**
 * The rig and the procedure that a planned shot's run goes by.
 * @param written  leaves the water and the set pressure to the rig wherever it can
 * @fails what `rigForShot` fails with; band-states-other, words-state-other where the procedure states
 *   the rig's usual number in figures: every place, since nothing that was approved is changed here
 */
export const documentsForShot = (
  rig: Rig,
  written: Procedure,
  shot: Shot,
): Result<{ readonly rig: Rig; readonly procedure: Procedure }> => {
  const own = rigForShot(rig, shot);
  const planned = own.ok ? own.value : undefined;
  const stated = planned ? statedOtherwise(written, rig, planned) : [];
  if (!planned || stated.length > 0) return failed(...(own.ok ? [] : own.issues), ...stated);
  return ok({ rig: planned, procedure: withRigNumbers(written, planned) });
};

/** Decimal fractions in a file and their sum differ in the last bit. */
const SLACK = 1e-9;
/** Words round: 43.5 psi are 3 bar. */
const ROUNDED = 5e-3;

const numberOf = ({ fill, pressure }: Rig, number: RigNumber): number =>
  number === "water" ? fill.water_kg : pressure.set_Pa;

const NAME: Record<RigNumber, string> = { water: "water", pressure: "set pressure" };

function statedOtherwise(written: Procedure, rig: Rig, planned: Rig): readonly Issue[] {
  const changed = (["water", "pressure"] as const).filter(
    (number) => Math.abs(numberOf(rig, number) - numberOf(planned, number)) > SLACK * numberOf(rig, number),
  );
  return PHASES.flatMap((phase) =>
    written.phases[phase].flatMap((step, index) => {
      // The supply has a band of its own, which no shot changes.
      if (step.proves.includes("supply-in-band")) return [];
      const where = `phases.${phase}[${index}]`;
      return changed.flatMap((number) => [
        ...bandStatesOther(step, where, number, rig, planned),
        ...wordsStateOther(step, where, number, rig),
      ]);
    }),
  );
}

/** A band in figures that lies in the rig's own is about that number, whatever the step proves. */
function bandStatesOther(
  { form }: Step,
  where: string,
  number: RigNumber,
  rig: Rig,
  planned: Rig,
): readonly Issue[] {
  if (form.kind !== "measure" || form.quantity !== number) return [];
  const { min, max } = form.band;
  if (min === undefined && max === undefined) return [];
  const isIn = (of: Rig) => {
    const band = rigBand(of, number);
    return [min, max].every(
      (end) => end === undefined || (end >= band.min * (1 - SLACK) && end <= band.max * (1 + SLACK)),
    );
  };
  if (!isIn(rig) || isIn(planned)) return [];
  const band = rigBand(planned, number);
  return [
    issue(
      "band-states-other",
      `${where}.form.band`,
      `it states ${min ?? "anything"} to ${max ?? "anything"}, and this shot's ${NAME[number]} is ${band.min} to ${band.max}`,
      `Write {"of": "${number}"} for the band, and have the procedure approved again.`,
    ),
  ];
}

const FIGURE = /(\d+(?:[.,]\d+)?)\s*([A-Za-zµ]+)/g;
const textsIn = (value: unknown): readonly string[] => {
  if (typeof value === "string") return [value];
  return typeof value === "object" && value !== null ? Object.values(value).flatMap(textsIn) : [];
};

function wordsStateOther(step: Step, where: string, number: RigNumber, rig: Rig): readonly Issue[] {
  const usual = numberOf(rig, number);
  const found = textsIn(step).flatMap((text) =>
    [...text.matchAll(FIGURE)].filter(([, figure = "", word = ""]) => {
      const scale = scaleOf(number, word);
      const value = Number(figure.replace(",", ".")) * (scale ?? Number.NaN);
      return Math.abs(value - usual) <= ROUNDED * usual;
    }),
  );
  return [...new Set(found.map(([words]) => words))].map((words) =>
    issue(
      "words-state-other",
      where,
      `it says “${words}”, the stand's usual ${NAME[number]}, and this shot has another`,
      `Write {${number}} instead, and have the procedure approved again.`,
    ),
  );
}
