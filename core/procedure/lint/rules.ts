import { awayWhileCharged } from "./away-while-charged.ts";
import { clearLast } from "./clear-last.ts";
import { criticalNeverSkippable } from "./critical-never-skippable.ts";
import { distance } from "./distance.ts";
import { emptinessShown } from "./emptiness-shown.ts";
import { factsAtHome } from "./facts-at-home.ts";
import { factsInOrder } from "./facts-in-order.ts";
import { factsOfTheOtherPath } from "./facts-of-the-other-path.ts";
import { factsProved } from "./facts-proved.ts";
import { fewDoubled } from "./few-doubled.ts";
import { forThisRig } from "./for-this-rig.ts";
import { gaugeMidThird } from "./gauge-mid-third.ts";
import { hazardsNamed } from "./hazards-named.ts";
import { holdsComplete } from "./holds-complete.ts";
import { idsUnique } from "./ids-unique.ts";
import { insideLimits } from "./inside-limits.ts";
import { killersFirst } from "./killers-first.ts";
import { measureReadable } from "./measure-readable.ts";
import { numbersHaveUnits } from "./numbers-have-units.ts";
import { numbersLeftOpen } from "./numbers-left-open.ts";
import { numbersOfTheRig } from "./numbers-of-the-rig.ts";
import { observedState } from "./observed-state.ts";
import { oneAct } from "./one-act.ts";
import { oneWordPerThing } from "./one-word-per-thing.ts";
import { pressureInSteps } from "./pressure-in-steps.ts";
import { restraintRounds } from "./restraint-rounds.ts";
import { restraintsOneByOne } from "./restraints-one-by-one.ts";
import { restraintsSetUpFirst } from "./restraints-set-up-first.ts";
import { rolesInPlace } from "./roles-in-place.ts";
import type { LintRule } from "./rule.ts";
import { setOutBeforeFill } from "./set-out-before-fill.ts";
import { shortLists } from "./short-lists.ts";
import { signed } from "./signed.ts";
import { timedStepsComplete } from "./timed-steps-complete.ts";
import { warningFits } from "./warning-fits.ts";
import { warningHoldsNoAction } from "./warning-holds-no-action.ts";
import { wordsUnlike } from "./words-unlike.ts";

/** In the order of their numbers: what matters most to life first. */
export const LINT_RULES: readonly LintRule[] = [
  restraintRounds,
  restraintsOneByOne,
  observedState,
  criticalNeverSkippable,
  awayWhileCharged,
  emptinessShown,
  insideLimits,
  gaugeMidThird,
  pressureInSteps,
  timedStepsComplete,
  clearLast,
  wordsUnlike,
  warningFits,
  warningHoldsNoAction,
  oneAct,
  oneWordPerThing,
  numbersHaveUnits,
  shortLists,
  killersFirst,
  fewDoubled,
  holdsComplete,
  rolesInPlace,
  hazardsNamed,
  distance,
  setOutBeforeFill,
  signed,
  factsProved,
  factsAtHome,
  factsInOrder,
  factsOfTheOtherPath,
  idsUnique,
  restraintsSetUpFirst,
  numbersOfTheRig,
  numbersLeftOpen,
  measureReadable,
  forThisRig,
];

/** Rules of good practice that need no lint: the fixed chart, or the rig's schema, keeps them. */
export const THEOREMS: readonly {
  readonly number: string;
  readonly title: string;
  readonly keptBy: string;
}[] = [
  {
    number: "L1",
    title: "Every way to release passes first looks, pull test and second looks after the last mount",
    keptBy: "chart and facts",
  },
  {
    number: "L7",
    title: "What opens, moves or remounts takes the proof away",
    keptBy: "the voids of the facts",
  },
  { number: "L9", title: "Every state with pressure has an unguarded way to making safe", keptBy: "chart" },
  {
    number: "L11",
    title: "The rig says how a charged bottle is emptied from outside the line",
    keptBy: "the rig's schema and contradictions",
  },
  { number: "L12", title: "After a misfire: the wait and the bottle shown empty", keptBy: "chart and facts" },
  {
    number: "L13",
    title: "No second release without a fresh zero, clear and whole restraint proof",
    keptBy: "chart and facts",
  },
  { number: "L14", title: "The supply is shut off before arming", keptBy: "the fact supply-isolated" },
  { number: "L18", title: "Nothing stands between zero and release", keptBy: "chart: one tap is both" },
  { number: "L30", title: "A safe end can be reached from everywhere", keptBy: "chart" },
  { number: "L31", title: "Back from pressure only through making safe", keptBy: "chart" },
];
