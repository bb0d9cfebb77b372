import { bandOf, look, type RuleCase } from "./rule-case.ts";

export const answersCases: readonly RuleCase[] = [
  {
    fails: "observed-state",
    because: "a critical step is a tick",
    change: ({ step }) => (step("isolate").form = { kind: "act" }),
    at: ["phases.charged[0].form"],
  },
  {
    fails: "observed-state",
    because: "a critical step is a wait",
    change: ({ step }) => (step("pressure-read").form = { kind: "wait", seconds: 5 }),
    at: ["phases.charging[2].form"],
  },
  {
    fails: "observed-state",
    because: "the answer is “checked”",
    change: ({ step }) =>
      (step("isolate").form = look(["checked", true], ["a handle along the line", false])),
    at: ["phases.charged[0].form.answers[0]"],
  },
  {
    fails: "observed-state",
    because: "there is nothing bad to answer",
    change: ({ step }) => (step("isolate").form = look(["both across", true], ["nearly across", true])),
    at: ["phases.charged[0].form.answers"],
  },
  {
    fails: "observed-state",
    because: "no answer lets the run go on",
    change: ({ step }) => (step("half").form = look(["hiss", false], ["drops", false])),
    at: ["phases.charging[0].form.answers"],
  },
  {
    fails: "observed-state",
    because: "a good and a bad answer read the same",
    change: ({ step }) => (step("half").form = look(["still", true], ["Still ", false])),
    at: ["phases.charging[0].form.answers"],
  },
  {
    fails: "observed-state",
    because: "a critical reading accepts any number",
    change: ({ step }) => bandOf(step("pull"), {}),
    at: ["phases.restraining[2].form"],
  },
  {
    fails: "critical-never-skippable",
    because: "the supply need not be shut",
    change: ({ step }) => (step("isolate").skippable = true),
    at: ["phases.charged[0].skippable"],
  },
  {
    fails: "critical-never-skippable",
    because: "a plain step may be skipped under pressure",
    change: ({ step }) => (step("park").skippable = true),
    at: ["phases.charged[2].skippable"],
  },
];
