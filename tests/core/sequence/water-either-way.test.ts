import { describe, expect, it } from "vitest";
import { HERON, KINGFISHER } from "../../../app/demo/documents.ts";
import type { Step } from "../../../core/procedure/procedure.ts";
import type { Reading } from "../../../core/record/reading.ts";
import { CREW, Walk } from "../../model/walk.ts";

/** Heron's fill asks for grams on a scale, Kingfisher's for millilitres in a graduated vessel. */

const weighed = (gross: string, instrument: string): Reading => ({
  kind: "difference",
  gross,
  tare: "48",
  unit: "g",
  instrument,
});
const poured = (typed: string, instrument: string): Reading => ({
  kind: "volume",
  typed,
  unit: "mL",
  temperature: "20",
  temperatureUnit: "°C",
  instrument,
});

const RIGS = [
  {
    documents: HERON,
    ways: [weighed("648", "scale"), poured("600", "graduated vessel")],
    tooMuch: poured("650", "graduated vessel"),
    rightAfter: weighed("648", "scale"),
  },
  {
    documents: KINGFISHER,
    ways: [weighed("498", "scale"), poured("450", "graduated vessel")],
    tooMuch: weighed("548", "scale"),
    rightAfter: poured("450", "graduated vessel"),
  },
];

const atFill = ({ rig, procedure }: typeof HERON): Walk => new Walk(rig, procedure).to("filling");
const done = (reading: Reading) =>
  ({ type: "step-done", step: "water", seenBy: CREW.installer, reading }) as const;

describe.each(RIGS)("the fill of $documents.rig.id", ({ documents, ways, tooMuch, rightAfter }) => {
  it.each(ways)("is proved by $kind, on the instrument that was used", (reading) => {
    const walk = atFill(documents);
    walk.say(done(reading));
    expect(walk.snapshot.context.facts["water-measured"]).toBeDefined();
    expect(walk.snapshot.context.outside).toEqual([]);
  });

  it("is put right in the other way than the one that lay outside", () => {
    const walk = atFill(documents);
    walk.say(done(tooMuch));
    expect(walk.snapshot.context.outside).toHaveLength(1);
    expect(walk.snapshot.context.facts["water-measured"]).toBeUndefined();
    walk.say(done(rightAfter));
    expect(walk.snapshot.context.outside).toEqual([]);
    expect(walk.snapshot.context.facts["water-measured"]).toBeDefined();
  });

  it("refuses a vessel's marks as a weight, and grams as a vessel's marks", () => {
    const walk = atFill(documents);
    const asWeight: Reading = { kind: "single", typed: "600", unit: "mL", instrument: "graduated vessel" };
    expect(walk.try(done(asWeight))).toContain("answer-complete");
    expect(walk.try(done({ ...weighed("648", "scale"), unit: "mL" } as Reading))).toContain(
      "answer-complete",
    );
    expect(walk.try(done({ ...poured("600", "jug"), unit: "g" } as Reading))).toContain("answer-complete");
  });
});

it("any other quantity, and water in the step's own way, is read on the step's own instrument", () => {
  const walk = atFill(HERON);
  expect(walk.try(done(weighed("648", "another scale")))).toContain("answer-complete");
  expect(atFill(KINGFISHER).try(done(poured("450", "another jug")))).toContain("answer-complete");
  walk.say(done(weighed("648", "scale")));
  const temperature = HERON.procedure.phases.filling[1] as Step;
  const reading: Reading = { kind: "single", typed: "18", unit: "°C", instrument: "oven" };
  const answer = { type: "step-done", step: temperature.id, seenBy: CREW.installer, reading } as const;
  expect(walk.try(answer)).toContain("answer-complete");
});
