import { pathText } from "../../schema/read-document.ts";
import { PHASES, type PhaseId, type Procedure, type Step } from "../procedure.ts";
import { liesIn } from "./deviations.ts";

/**
 * A draft with a slip in one field has other faults too, and its author wants all of them at once.
 * What cannot be read is replaced by something of which no rule complains, and what a rule says of
 * a place that could not be read is left out: the schema has said it.
 */

type Path = readonly (string | number)[];

const isObject = (value: unknown): value is Record<string, unknown> =>
  typeof value === "object" && value !== null && !Array.isArray(value);

const listOf = (value: unknown): readonly unknown[] => (Array.isArray(value) ? value : []);

const inert = (id: string): Step => ({
  id,
  text: "Look",
  form: { kind: "act" },
  role: "conductor",
  place: "line",
  proves: [],
  skippable: false,
  hazards: [],
  takes_s: 0,
});

/** The top fields of a part, given its path, that do not hold what they should. */
const brokenFields = (broken: readonly Path[], part: Path): ReadonlySet<unknown> =>
  new Set(
    broken.filter((path) => part.every((key, at) => path[at] === key)).map((path) => path[part.length]),
  );

const readableStep = (value: unknown, phase: PhaseId, index: number, broken: readonly Path[]): Step => {
  const stand = inert(`${phase}-${index}-unreadable`);
  const bad = brokenFields(broken, ["phases", phase, index]);
  if (!isObject(value) || bad.has(undefined)) return stand;
  return { ...stand, ...Object.fromEntries(Object.entries(value).filter(([field]) => !bad.has(field))) };
};

/** @param rest  the JSON value less its unknown fields, as readDocument gave it */
export const readablePart = (rest: unknown, broken: readonly Path[]): Procedure | undefined => {
  if (!isObject(rest) || !isObject(rest["phases"])) return undefined;
  const bad = brokenFields(broken, []);
  const { phases, deviations } = rest;
  const stepsOf = (phase: PhaseId) =>
    listOf((phases as Record<string, unknown>)[phase]).map((step, index) =>
      readableStep(step, phase, index, broken),
    );
  return {
    format: "fourfast-procedure",
    version: 1,
    id: "unreadable",
    title: "unreadable",
    revision: 1,
    forRig: "unreadable",
    synthetic: false,
    author: "unreadable",
    ...Object.fromEntries(Object.entries(rest).filter(([field]) => !bad.has(field))),
    phases: Object.fromEntries(
      PHASES.map((phase) => [phase, stepsOf(phase)]),
    ) as unknown as Procedure["phases"],
    deviations: listOf(deviations).filter(
      (_, at) =>
        !broken.some(([top, index]) => top === "deviations" && (index === undefined || index === at)),
    ) as Procedure["deviations"],
  };
};

/** Fields of a step by which rules about a whole phase go. */
const TELLING: readonly unknown[] = ["proves", "form", "role", "hazards", undefined];
/** Fields that rules judge by the step's role. */
const BY_ROLE = ["hold", "place"] as const;

/** Whether a rule could judge this place, given what could not be read. */
export const couldBeJudged = (where: string, broken: readonly Path[]): boolean =>
  !broken.some((path) => {
    const field = path.slice(0, 4);
    const places =
      field[3] === "role" ? [field, ...BY_ROLE.map((each) => [...path.slice(0, 3), each])] : [field];
    const isUnread = places.some((place) => liesIn(where, pathText(place)));
    return isUnread || (TELLING.includes(field[3]) && liesIn(pathText(field), where));
  });
