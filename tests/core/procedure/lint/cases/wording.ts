import { plainStep } from "../break.ts";
import { onForm, type RuleCase } from "./rule-case.ts";

const text = (because: string, id: string, words: string, at: string, fails = "one-act"): RuleCase => ({
  fails,
  because,
  change: ({ step }) => (step(id).text = words),
  at: [at],
});

export const wordingCases: readonly RuleCase[] = [
  text("it starts with a noun", "soap", "Soapy water goes on the stopper.", "phases.sealing[3].text"),
  text("it holds two acts", "isolate", "Shut the outlet and open the bleed.", "phases.charged[0].text"),
  text(
    "the second act hides behind a comma",
    "park",
    "Park the supply, unscrew the end.",
    "phases.charged[2].text",
  ),
  text("it says “properly”", "soap", "Soap the stopper properly.", "phases.sealing[3].text"),
  text("the condition comes last", "soap", "Soap the stopper if it is dry.", "phases.sealing[3].text"),
  text(
    "latch here, clamp there",
    "latches-home",
    "Press every clamp home.",
    "phases.restraining[0].text",
    "one-word-per-thing",
  ),
  text(
    "a pressure without a unit",
    "bubbling",
    "Let it rise to 3 and wait.",
    "phases.charging[1].text",
    "numbers-have-units",
  ),
  {
    fails: "short-lists",
    because: "a step reads like a paragraph",
    change: ({ step }) => (step("soap").text = `Soap ${"the whole side ".repeat(7)}well.`),
    at: ["phases.sealing[3].text"],
  },
  {
    fails: "short-lists",
    because: "a list is longer than anybody reads",
    change: ({ procedure }) => {
      for (let at = 0; at < 8; at++) procedure.phases.filling.push(plainStep(`more-${at}`));
    },
    at: ["phases.filling"],
  },
  {
    fails: "short-lists",
    because: "a phase takes two minutes",
    change: ({ step }) => (step("water").takes_s = 120),
    at: ["phases.filling"],
  },
  {
    fails: "words-unlike",
    because: "“yes” repeats nothing",
    change: ({ step }) => onForm(step("voice-check"), "say", (form) => (form.reply = "Yes.")),
    at: ["phases.preparing[4].form.reply"],
  },
  {
    fails: "words-unlike",
    because: "“stop” is used to agree",
    change: ({ step }) => onForm(step("voice-check"), "say", (form) => (form.reply = "Stop heard, indoors.")),
    at: ["phases.preparing[4].form.reply"],
  },
  {
    fails: "words-unlike",
    because: "the reply is about something else",
    change: ({ step }) => onForm(step("voice-check"), "say", (form) => (form.reply = "All four lamps lit.")),
    at: ["phases.preparing[4].form.reply"],
  },
  {
    fails: "words-unlike",
    because: "“go” and “no” are a letter apart",
    change: ({ step }) =>
      onForm(step("last-call"), "say", (form) => (form.words += " On “go” you pull, on “no” you wait.")),
    at: ["phases.armed[0].form.words"],
  },
  {
    fails: "warning-fits",
    because: "a bruise is announced as danger",
    change: ({ step }) => (step("seat-stopper").warning!.signal = "DANGER"),
    at: ["phases.sealing[4].warning.signal"],
  },
  {
    fails: "warning-fits",
    because: "hazard and result are the same words",
    change: ({ step }) => (step("half").warning!.result = step("half").warning!.hazard),
    at: ["phases.charging[0].warning"],
  },
  {
    fails: "warning-holds-no-action",
    because: "a valve is shut inside a warning",
    change: ({ step }) => (step("half").warning!.avoid = "Stay back. Close the supply first."),
    at: ["phases.charging[0].warning"],
  },
  text(
    "it points to a warning elsewhere",
    "park",
    "Park the supply, see warning.",
    "phases.charged[2].text",
    "warning-holds-no-action",
  ),
];
