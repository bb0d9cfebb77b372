/**
 * What answers each hazard beside the facts that name it: rules of the sequence, rules of the
 * linter, screens, and the tests that would fail. Names are checked to exist; facts and steps name
 * their hazards themselves.
 */
export type HazardAnswer = {
  readonly rules?: readonly string[];
  readonly lint?: readonly string[];
  readonly screens?: readonly string[];
  readonly tests: readonly string[];
};

const proof = "tests/core/sequence/restraint-proof.test.ts";
const safing = "tests/core/sequence/safing.test.ts";
const holds = "tests/core/sequence/holds.test.ts";
const lintRules = "tests/core/procedure/lint/rules.test.ts";
const rig = "tests/core/rig/parse-rig.test.ts";
const nominal = "tests/core/sequence/happy-path.test.ts";
const crash = "tests/simulation/simulate.test.ts";
const review = "tests/core/review/review-run.test.ts";

const restraintScreen = "app/stand/restraint-screen.tsx";
const reports = "app/stand/reports-panel.tsx";
const safingScreens = "app/stand/safing-screens.tsx";

export const HAZARD_ANSWERS: { readonly [hazard: string]: HazardAnswer } = {
  "1": {
    rules: ["proved-before", "other-person", "verifier-holds-phone"],
    lint: ["restraint-rounds", "restraints-one-by-one", "restraints-set-up-first"],
    screens: [restraintScreen],
    tests: [proof],
  },
  "2": {
    rules: ["proved-before", "restraint-known"],
    lint: ["restraints-one-by-one", "observed-state"],
    screens: [restraintScreen],
    tests: [proof],
  },
  "3": { lint: ["facts-proved"], tests: [lintRules, nominal] },
  "4": { lint: ["hazards-named"], screens: [reports], tests: [holds, lintRules] },
  "5": { lint: ["emptiness-shown"], screens: [safingScreens], tests: [safing, rig] },
  "6": { lint: ["emptiness-shown"], tests: [safing, lintRules] },
  "7": {
    rules: ["readings-inside", "gauges-agree", "answer-complete"],
    lint: ["measure-readable", "gauge-mid-third"],
    screens: ["app/stand/measure-screen.tsx"],
    tests: [holds, rig, lintRules],
  },
  "8": {
    rules: ["readings-inside"],
    lint: ["inside-limits", "numbers-of-the-rig", "pressure-in-steps"],
    tests: [safing, rig, lintRules],
  },
  "9": { lint: ["inside-limits"], tests: [lintRules, "tests/core/procedure/lint/lint-procedure.test.ts"] },
  "10": { rules: ["gauges-agree"], lint: ["hazards-named"], tests: [holds, lintRules] },
  "11": { lint: ["killers-first", "facts-in-order"], screens: [reports], tests: [safing, lintRules] },
  "12": { lint: ["set-out-before-fill"], tests: [rig, lintRules] },
  "13": {
    rules: ["crew-said-clear"],
    lint: ["distance", "clear-last", "away-while-charged"],
    screens: [reports],
    tests: [rig, lintRules, nominal],
  },
  "14": {
    rules: ["wait-over", "pulls-left", "responsible-person"],
    screens: [safingScreens],
    tests: [safing],
  },
  "15": { lint: ["clear-last", "roles-in-place"], screens: [reports], tests: [safing, lintRules] },
  "16": { rules: ["wait-over"], lint: ["away-while-charged"], tests: [safing, lintRules] },
  "17": {
    rules: ["zeros-left"],
    lint: ["timed-steps-complete"],
    screens: ["app/stand/zero-screen.tsx", "app/stand/count-screen.tsx"],
    tests: [nominal, lintRules],
  },
  "18": { lint: ["words-unlike"], screens: ["app/stand/step-screen.tsx"], tests: [lintRules] },
  "19": { screens: ["app/stand/banners.tsx"], tests: [crash, safing] },
  "20": {
    rules: ["step-at-hand", "no-hold"],
    screens: ["app/stand/return-screen.tsx", "app/stand/hold-screen.tsx"],
    tests: [holds],
  },
  "21": {
    lint: ["observed-state"],
    screens: [restraintScreen, "app/stand/tap-guard.ts"],
    tests: [review, lintRules],
  },
  "22": {
    rules: ["role-free", "other-person", "verifier-holds-phone"],
    lint: ["restraint-rounds"],
    screens: ["app/stand/hand-over-screen.tsx"],
    tests: [proof],
  },
  "23": { rules: ["proved-before"], screens: [reports], tests: [proof] },
  "24": { rules: ["time-at-pressure", "zeros-left"], tests: [nominal] },
  "25": {
    screens: ["app/stand/tap-guard.ts", "app/widgets/press-hold.tsx", "app/stand/correct-form.tsx"],
    tests: [safing],
  },
  "26": { lint: ["numbers-of-the-rig"], tests: [proof, lintRules] },
  "27": { rules: ["wait-over"], lint: ["emptiness-shown"], tests: [safing, lintRules] },
};
