import { plainStep } from "../break.ts";
import type { RuleCase } from "./rule-case.ts";

export const orderCases: readonly RuleCase[] = [
  {
    fails: "timed-steps-complete",
    because: "the window is not announced",
    change: ({ step }) => delete step("last-call").timeLimit,
    at: ["phases.armed[0].timeLimit"],
  },
  {
    fails: "timed-steps-complete",
    because: "the window and the tries are longer than the rig's",
    change: ({ step }) => Object.assign(step("last-call").timeLimit!, { limit_s: 10, tries: 9 }),
    at: ["phases.armed[0].timeLimit.limit_s", "phases.armed[0].timeLimit.tries"],
  },
  {
    fails: "clear-last",
    because: "something is done after clear",
    change: ({ procedure }) => procedure.phases.clearing.push(plainStep("late")),
    at: ["phases.clearing[2]"],
  },
  {
    fails: "killers-first",
    because: "the supply is shut third",
    change: ({ procedure, take }) => procedure.phases.charged.splice(2, 0, take("isolate")),
    at: ["phases.charged[2]"],
  },
  {
    fails: "few-doubled",
    because: "everything has a witness",
    change: ({ step }) => {
      for (const id of ["bottle-look", "slide-dry", "half", "isolate"])
        step(id).hold = { kind: "witness", opens: "verifier", evidence: "seen", onNo: "stop" };
    },
    at: ["phases.charged[0]"],
  },
  {
    fails: "facts-proved",
    because: "nobody measures the water",
    change: ({ take }) => take("water"),
    at: ["phases.filling"],
  },
  {
    fails: "facts-proved",
    because: "clear is proved while clearing and not while armed",
    change: ({ step }) => (step("last-call").proves = ["cord-in-hand", "indoors-ready", "words-repeated"]),
    at: ["phases.armed"],
  },
  {
    fails: "facts-proved",
    because: "two steps prove the same fact",
    change: ({ procedure, step }) => procedure.phases.filling.push({ ...step("water"), id: "water-again" }),
    at: ["phases.filling[2].proves"],
  },
  {
    fails: "facts-proved",
    because: "the bottle's own gauge is never read on the way out",
    vent: true,
    change: ({ take }) => take("vent"),
    at: ["phases.making-safe"],
  },
  {
    fails: "facts-at-home",
    because: "glasses are put on after the charge",
    change: ({ step }) => step("from-the-line").proves.push("glasses-on"),
    at: ["phases.charged[3].proves"],
  },
  {
    fails: "facts-at-home",
    because: "a step claims the responsible person's word",
    change: ({ step }) => step("opening-look").proves.push("emptied-by-word"),
    at: ["phases.making-safe[1].proves"],
  },
  {
    fails: "facts-in-order",
    because: "the opening is looked at before the supply is shut",
    change: ({ procedure }) => procedure.phases["making-safe"].reverse(),
    at: ["phases.making-safe[0]"],
  },
  {
    fails: "facts-in-order",
    because: "one step proves a fact and what it rests on",
    change: ({ step, take }) => {
      take("supply-shut");
      step("opening-look").proves = ["supply-isolated", "opening-silent"];
    },
    at: ["phases.making-safe[0]"],
  },
  {
    fails: "facts-of-the-other-path",
    because: "a gauge at zero is claimed on a rig that is emptied by its release",
    change: ({ step }) => step("supply-shut").proves.push("line-at-zero"),
    at: ["phases.making-safe[0].proves"],
  },
  {
    fails: "ids-unique",
    because: "two steps are called the same",
    change: ({ step }) => (step("soap").id = "water"),
    at: ["phases.sealing[3].id"],
  },
  {
    fails: "hazards-named",
    because: "nobody looks after the cord",
    change: ({ procedure }) => {
      for (const steps of Object.values(procedure.phases))
        for (const step of steps) step.hazards = step.hazards.filter((id) => id !== "14");
    },
    at: ["phases"],
  },
  {
    fails: "hazards-named",
    because: "there is no such hazard",
    change: ({ step }) => step("soap").hazards.push("99"),
    at: ["phases.sealing[3].hazards"],
  },
  {
    fails: "set-out-before-fill",
    because: "nothing is said of the splash",
    change: ({ step }) => (step("line-out").hazards = ["13"]),
    at: ["phases.preparing"],
  },
];
