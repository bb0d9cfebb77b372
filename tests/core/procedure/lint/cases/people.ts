import type { RuleCase } from "./rule-case.ts";

export const peopleCases: readonly RuleCase[] = [
  {
    fails: "holds-complete",
    because: "the installer opens the installer's hold",
    change: ({ step }) => (step("isolate").hold!.opens = "installer"),
    at: ["phases.charged[0].hold.opens"],
  },
  {
    fails: "roles-in-place",
    because: "the caller is sent to the post",
    change: ({ step }) => (step("park").role = "caller"),
    at: ["phases.charged[2].place"],
  },
  {
    fails: "roles-in-place",
    because: "the conductor reads out indoors",
    change: ({ step }) => (step("voice-check").place = "indoors"),
    at: ["phases.preparing[4].place"],
  },
  {
    fails: "roles-in-place",
    because: "the releaser uncouples the air",
    change: ({ step }) => (step("uncouple").role = "releaser"),
    at: ["phases.charged[1].place"],
  },
  {
    fails: "signed",
    because: "the author approves",
    change: ({ procedure }) => (procedure.approvedBy = procedure.author),
    at: ["approvedBy"],
  },
  {
    fails: "for-this-rig",
    because: "it was written for another rig",
    change: ({ procedure }) => (procedure.forRig = "kingfisher"),
    at: ["forRig"],
  },
];
