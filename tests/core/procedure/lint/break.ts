import { HERON, KINGFISHER } from "../../../../app/demo/documents.ts";
import type { Procedure, Step } from "../../../../core/procedure/procedure.ts";
import type { Rig } from "../../../../core/rig/rig.ts";

/** Documents that a test may change: the readonly of our types is for our code. */
export type Mutable<T> = T extends readonly (infer I)[]
  ? Mutable<I>[]
  : T extends object
    ? { -readonly [K in keyof T]: Mutable<T[K]> }
    : T;

export type Draft = {
  readonly procedure: Mutable<Procedure>;
  readonly rig: Mutable<Rig>;
  /** A step of the draft, by its id. */
  readonly step: (id: string) => Mutable<Step>;
  /** Takes a step out and gives it back. */
  readonly take: (id: string) => Mutable<Step>;
};

const draftOf = ({ procedure, rig }: typeof HERON): Draft => {
  const copy = structuredClone(procedure) as Mutable<Procedure>;
  const all = () => Object.values(copy.phases).flat();
  const step = (id: string): Mutable<Step> => {
    const found = all().find((candidate) => candidate.id === id);
    if (!found) throw new Error(`no step ${id}`);
    return found;
  };
  const take = (id: string): Mutable<Step> => {
    const found = step(id);
    for (const steps of Object.values(copy.phases))
      if (steps.includes(found)) steps.splice(steps.indexOf(found), 1);
    return found;
  };
  return { procedure: copy, rig: structuredClone(rig) as Mutable<Rig>, step, take };
};

export const heronDraft = (): Draft => draftOf(HERON);
export const kingfisherDraft = (): Draft => draftOf(KINGFISHER);

/** A step that proves nothing and of which no rule complains. */
export const plainStep = (id: string): Mutable<Step> => ({
  id,
  text: "Look at the sky.",
  form: { kind: "act" },
  role: "conductor",
  place: "line",
  proves: [],
  skippable: false,
  hazards: [],
  takes_s: 1,
});
