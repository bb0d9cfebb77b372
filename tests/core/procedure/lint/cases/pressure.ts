import { bandOf, look, onForm, type RuleCase } from "./rule-case.ts";

export const pressureCases: readonly RuleCase[] = [
  {
    fails: "away-while-charged",
    because: "a pin is pulled by hand",
    change: ({ step }) => (step("last-call").place = "stand"),
    at: ["phases.armed[0].place"],
  },
  {
    fails: "emptiness-shown",
    because: "the opening is looked at from the post",
    change: ({ step }) => (step("opening-look").place = "post"),
    at: ["phases.making-safe[1]"],
  },
  {
    fails: "emptiness-shown",
    because: "the line gauge speaks for the bottle",
    vent: true,
    change: ({ step }) => onForm(step("vent"), "measure", (form) => (form.instrument = "line")),
    at: ["phases.making-safe[2].form"],
  },
  {
    fails: "emptiness-shown",
    because: "half a bar counts as zero",
    vent: true,
    change: ({ step }) => bandOf(step("bleed"), { max: 50_000 }),
    at: ["phases.making-safe[1].form"],
  },
  {
    fails: "inside-limits",
    because: "the bottle is past its count",
    change: ({ rig }) => (rig.bottle.shotsSoFar = 12),
    at: ["the rig, bottle.shotsSoFar"],
  },
  {
    fails: "inside-limits",
    because: "a reading above the bottle's limit is accepted",
    change: ({ step }) => bandOf(step("pressure-read"), { min: 290_000, max: 520_000 }),
    at: ["phases.charging[2].form.band.max"],
  },
  {
    fails: "inside-limits",
    because: "a band is open upwards",
    change: ({ step }) => bandOf(step("pressure-read"), { min: 290_000 }),
    at: ["phases.charging[2].form.band"],
  },
  {
    fails: "gauge-mid-third",
    because: "3 bar is read on a gauge to 16 bar",
    change: ({ rig }) => (rig.gauges[2]!.range_Pa.max = 1_600_000),
    at: ["phases.charging[2].form.instrument"],
  },
  {
    fails: "pressure-in-steps",
    because: "nothing stops the rise",
    change: ({ take }) => take("half"),
    at: ["phases.charging"],
  },
  {
    fails: "distance",
    because: "the post is 3 m out at 5 bar",
    change: ({ rig }) => {
      rig.pressure.set_Pa = 480_000;
      rig.places[1]!.at = { x: -3, y: -3 };
    },
    at: ["the rig, places[1].at"],
  },
  {
    fails: "numbers-of-the-rig",
    because: "more water than the rig's is accepted",
    change: ({ step }) => bandOf(step("water"), { min: 0.5, max: 0.7 }),
    at: ["phases.filling[0].form.band"],
  },
  {
    fails: "numbers-of-the-rig",
    because: "half the pull is accepted",
    change: ({ step }) => bandOf(step("pull"), { min: 75 }),
    at: ["phases.restraining[2].form.band"],
  },
  {
    fails: "numbers-of-the-rig",
    because: "the set pressure is looked at, not measured",
    change: ({ step }) => (step("regulator").form = look(["on the mark", true], ["off the mark", false])),
    at: ["phases.clearing[1].form"],
  },
  {
    fails: "numbers-of-the-rig",
    because: "the supply may be lower than the rig says",
    change: ({ step }) => bandOf(step("supply-read"), { min: 350_000, max: 800_000 }),
    at: ["phases.clearing[0].form.band"],
  },
  {
    fails: "numbers-left-open",
    because: "the rig's water was not put in",
    change: ({ step }) => bandOf(step("water"), { min: 0.59, max: 0.61, of: "water" }),
    at: ["phases.filling[0].form.band"],
  },
  {
    fails: "numbers-left-open",
    because: "braces hold a word that nothing stands for",
    change: ({ step }) => (step("half").why = "Half of {presure} shows a leak."),
    at: ["phases.charging[0]"],
  },
  {
    fails: "measure-readable",
    because: "the unit is of another quantity",
    change: ({ step }) => onForm(step("pull"), "measure", (form) => (form.unit = "bar")),
    at: ["phases.restraining[2].form.unit"],
  },
  {
    fails: "measure-readable",
    because: "the unit is a word that every object knows",
    change: ({ step }) => onForm(step("pull"), "measure", (form) => (form.unit = "constructor")),
    at: ["phases.restraining[2].form.unit"],
  },
  {
    fails: "measure-readable",
    because: "a volume is asked of what is no water",
    change: ({ step }) => onForm(step("pull"), "measure", (form) => (form.unit = "mL")),
    at: ["phases.restraining[2].form.unit"],
  },
  {
    fails: "measure-readable",
    because: "water has neither a unit of weight nor one of volume",
    change: ({ step }) => onForm(step("water"), "measure", (form) => (form.unit = "cup")),
    at: ["phases.filling[0].form.unit"],
  },
  {
    fails: "measure-readable",
    because: "the band is upside down",
    change: ({ step }) => bandOf(step("water"), { min: 0.61, max: 0.59 }),
    at: ["phases.filling[0].form.band"],
  },
  {
    fails: "measure-readable",
    because: "the rig has no such gauge",
    change: ({ step }) => onForm(step("pressure-read"), "measure", (form) => (form.instrument = "bottle")),
    at: ["phases.charging[2].form.instrument"],
  },
  {
    fails: "measure-readable",
    because: "psi are asked of a gauge in bar",
    change: ({ step }) => onForm(step("pressure-read"), "measure", (form) => (form.unit = "psi")),
    at: ["phases.charging[2].form.unit"],
  },
];
