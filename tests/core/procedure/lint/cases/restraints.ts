import { look, type RuleCase } from "./rule-case.ts";

export const restraintsCases: readonly RuleCase[] = [
  {
    fails: "restraint-rounds",
    because: "the pull test comes last",
    change: ({ procedure, take }) => procedure.phases.restraining.push(take("pull")),
    at: ["phases.restraining[2]"],
  },
  {
    fails: "restraint-rounds",
    because: "the second looks are missing",
    change: ({ take }) => take("second-looks"),
    at: ["phases.restraining"],
  },
  {
    fails: "restraint-rounds",
    because: "the installer verifies",
    change: ({ step }) => (step("second-looks").role = "installer"),
    at: ["phases.restraining[3].role"],
  },
  {
    fails: "restraint-rounds",
    because: "the pull is only a look",
    change: ({ step }) => (step("pull").form = look(["holds", true], ["moves", false])),
    at: ["phases.restraining[2].form"],
  },
  {
    fails: "restraint-rounds",
    because: "restraints are looked at again while filling",
    change: ({ procedure, step }) => procedure.phases.filling.push({ ...step("first-looks"), id: "again" }),
    at: ["phases.filling[2]"],
  },
  {
    fails: "restraints-one-by-one",
    because: "one look stands for all latches",
    change: ({ step }) => (step("first-looks").form = look(["all four home", true], ["one not home", false])),
    at: ["phases.restraining[1].form"],
  },
  {
    fails: "restraints-one-by-one",
    because: "a round proves more than its looks",
    change: ({ step }) => step("second-looks").proves.push("pull-tested"),
    at: ["phases.restraining[3].form"],
  },
  {
    fails: "restraints-set-up-first",
    because: "nobody is told to close the latches before looking",
    change: ({ take }) => take("latches-home"),
    at: ["phases.restraining[0]"],
  },
];
