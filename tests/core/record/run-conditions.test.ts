import { describe, expect, it } from "vitest";
import { HERON } from "../../../app/demo/documents.ts";
import type { Step } from "../../../core/procedure/procedure.ts";
import type { LogEvent } from "../../../core/record/entry.ts";
import type { Reading } from "../../../core/record/reading.ts";
import { runConditions } from "../../../core/record/run-conditions.ts";
import { nominalLog, OPENED, sealAll } from "./short-log.ts";

/** SYNTHETIC logs of stand Heron. */
const { phases } = HERON.procedure;
const proving = (id: string): Step =>
  Object.values(phases)
    .flat()
    .find(({ proves }) => (proves as readonly string[]).includes(id)) as Step;
const WATER = proving("water-measured").id;
const LOOK = Object.values(phases)
  .flat()
  .find(({ form }) => form.kind === "look") as Step;

const weighed = (gross: string): Reading => ({
  kind: "difference",
  gross,
  tare: "48",
  unit: "g",
  instrument: "scale",
});
const read = (reading: Reading, step = WATER): LogEvent => ({
  type: "step-done",
  step,
  seenBy: "I1",
  reading,
});
const conditions = (...events: readonly LogEvent[]) =>
  runConditions({ ...HERON, entries: sealAll([OPENED, ...events]) });

describe("what a log says of its shot", () => {
  it("is all there after a nominal run", () => {
    const found = runConditions({ ...HERON, entries: nominalLog() });
    expect(found.water_kg).toBeCloseTo(HERON.rig.fill.water_kg, 3);
    expect(found.setPressure_Pa).toBeCloseTo(HERON.rig.pressure.set_Pa, -3);
    expect(found.supply_Pa).toBeGreaterThan(HERON.rig.supply.workingMin_Pa);
    expect(found.released_ms).toBeGreaterThan(found.openedAt_ms);
    expect(found.crew).toBeDefined();
  });

  it("is the last reading before the release, and none that was corrected or came after", () => {
    const found = conditions(
      read(weighed("648")),
      read(weighed("748")),
      { type: "corrected", entry: 2, why: "misread" },
      { type: "released" },
      read(weighed("348")),
    );
    expect(found.water_kg).toBeCloseTo(0.6, 12);
  });

  it("is unknown, not guessed, where nothing readable was said", () => {
    const found = conditions(read(weighed("a lot")), read(weighed("648"), LOOK.id), {
      type: "noted",
      text: "the scale wobbled",
    });
    expect(found).toMatchObject({ water_kg: undefined, released_ms: undefined, crew: undefined });
    expect(found.notes).toEqual(["the scale wobbled"]);
  });

  it("names the crew by its letter, and one whose codes have no number by the code", () => {
    const crewOf = (person: string) => conditions({ type: "signed-on", person, role: "conductor" }).crew;
    expect([crewOf("C1"), crewOf("BC12"), crewOf("JO")]).toEqual(["C", "BC", "JO"]);
    expect(conditions({ type: "signed-on", person: "C2", role: "installer" }).crew).toBeUndefined();
  });

  it("of a log without entries is nothing at all", () => {
    const found = runConditions({ ...HERON, entries: [] });
    expect(found).toMatchObject({ drill: false, openedAt_ms: 0, notes: [], crew: undefined });
  });
});
