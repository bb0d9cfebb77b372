import type { Procedure } from "../../../core/procedure/procedure.ts";
import type { Rig } from "../../../core/rig/rig.ts";
import type { Act } from "../../../core/sequence/vocabulary.ts";

/**
 * What the independent model remembers of a log. It shares no code with core (types only) and works
 * the other way round: it deletes nothing, it remembers *when* each thing was last said and judges
 * by comparing those moments.
 */

export type Documents = { readonly rig: Rig; readonly procedure: Procedure };

export type Moment = {
  /** Place in the log, counted by the model itself. */
  readonly order: number;
  readonly seq: number;
  readonly person: string;
  readonly at: number;
  readonly mono: number;
  readonly session: string;
};

export type Times = { readonly [name: string]: Moment };

export type HoldNoted = { readonly kind: "finding" | "called" | "automatic"; readonly by: string };

export type Memory = {
  readonly order: number;
  readonly state: string;
  /** When each state was last entered. */
  readonly entered: Times;
  /** When each piece of evidence was last given. */
  readonly given: Times;
  /** When each thing that can spoil evidence last happened. */
  readonly happened: Times;
  /** Evidence whose entry was corrected since it was given: its order then. */
  readonly withdrawn: { readonly [evidence: string]: number };
  readonly steps: { readonly [step: string]: Moment & { readonly skipped: boolean } };
  /** Some step or look was ever taken down. */
  readonly started: boolean;
  readonly roles: { readonly [role: string]: string };
  readonly hats: { readonly [person: string]: readonly string[] };
  readonly phone: string | undefined;
  readonly holds: readonly HoldNoted[];
  readonly amiss: readonly string[];
  /** Readings behind the supply in this charging, in pascals. */
  readonly charging_Pa: { readonly [gauge: string]: number };
  readonly zeros: number;
  readonly pulls: number;
  readonly airSince: Moment | undefined;
  readonly zeroAt: Moment | undefined;
  readonly waitFrom: Moment | undefined;
  readonly stepFrom: Moment | undefined;
  /** The report of a release that was seen, with nothing since to cast doubt on it. */
  readonly seenRelease: Moment | undefined;
  /** Whether the last release of this build-up fell inside the window of its zero. */
  readonly onTime: boolean | undefined;
  readonly onTimeSeq: number | undefined;
};

export const BLANK: Memory = {
  order: 0,
  state: "preparing",
  entered: {},
  given: {},
  happened: {},
  withdrawn: {},
  steps: {},
  started: false,
  roles: {},
  hats: {},
  phone: undefined,
  holds: [],
  amiss: [],
  charging_Pa: {},
  zeros: 0,
  pulls: 0,
  airSince: undefined,
  zeroAt: undefined,
  waitFrom: undefined,
  stepFrom: undefined,
  seenRelease: undefined,
  onTime: undefined,
  onTimeSeq: undefined,
};

export const momentOf = (memory: Memory, act: Act, person: string = act.by): Moment => ({
  order: memory.order + 1,
  seq: act.seq,
  person,
  at: act.at,
  mono: act.mono,
  session: act.session,
});

/** No more than this many seconds can have passed; without end where the clocks do not agree on a past. */
export const atMost_s = (then: Moment, now: Act): number => {
  const wall_s = (now.at - then.at) / 1000;
  const mono_s = (now.mono - then.mono) / 10_000;
  const known = then.session === now.session && wall_s >= 0 && mono_s >= 0;
  return known ? Math.max(wall_s, mono_s) : Number.POSITIVE_INFINITY;
};

/** At least this many seconds have passed. */
export const atLeast_s = (then: Moment, now: Act): number => {
  const wall_s = (now.at - then.at) / 1000;
  const mono_s = (now.mono - then.mono) / 10_000;
  const known = then.session === now.session && wall_s >= 0 && mono_s >= 0;
  return known ? Math.min(wall_s, mono_s) : 0;
};
