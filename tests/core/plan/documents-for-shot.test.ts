import { fc, test as prop } from "@fast-check/vitest";
import { describe, expect, test } from "vitest";
import { WRITTEN, WRITTEN_HERON, WRITTEN_KINGFISHER } from "../../../app/demo/written.ts";
import { documentsForShot, rigForShot, type Shot } from "../../../core/plan/documents-for-shot.ts";
import { canStart } from "../../../core/procedure/lint/can-start.ts";
import { findStep, type Procedure } from "../../../core/procedure/procedure.ts";
import { withRigNumbers } from "../../../core/procedure/rig-numbers.ts";
import type { Result } from "../../../core/result.ts";

const { rig, written } = WRITTEN_HERON;
const shot: Shot = { water_kg: 0.45, setPressure_Pa: 250_000 };
const good = <T>(result: Result<T>): T => {
  if (!result.ok) throw new Error(JSON.stringify(result.issues));
  return result.value;
};
const codesOf = (result: Result<unknown>) =>
  result.ok ? [] : result.issues.map(({ code, where }) => `${code} at ${where}`);
const bandOf = (procedure: Procedure, step: string) => {
  const form = findStep(procedure, step)?.step.form;
  return form?.kind === "measure" ? form.band : undefined;
};

describe("a rig for a shot", () => {
  test("has the shot's water and pressure, and everything else as its owner wrote it", () => {
    expect(good(rigForShot(rig, shot))).toEqual({
      ...rig,
      fill: { ...rig.fill, water_kg: 0.45 },
      pressure: { ...rig.pressure, set_Pa: 250_000 },
    });
  });

  test.each<[string, Shot, string]>([
    ["above the bottle's limit", { ...shot, setPressure_Pa: 520_000 }, "limit-below-set at bottle.limit_Pa"],
    [
      "that reaches the limit only with its tolerance",
      { ...shot, setPressure_Pa: 495_000 },
      "limit-below-set at bottle.limit_Pa",
    ],
    [
      "that the supply cannot hold",
      { ...shot, setPressure_Pa: 360_000 },
      "supply-under-set at supply.workingMin_Pa",
    ],
    ["that leaves no air", { ...shot, water_kg: 1.49 }, "water-exceeds-bottle at fill.water_kg"],
    ["without a number", { ...shot, water_kg: Number.NaN }, "wrong-type at fill.water_kg"],
  ])("is refused for a shot %s", (_what, asked, issue) => {
    expect(codesOf(rigForShot(rig, asked))).toContain(issue);
  });
});

describe("the documents of a shot", () => {
  test("ask the crew for its numbers, in words and in bands, in the units of the instruments", () => {
    const { procedure } = good(documentsForShot(rig, written, shot));
    expect(findStep(procedure, "water")?.step.text).toBe(
      "Fill the bottle with 450 g of water, by weight or by vessel.",
    );
    expect(findStep(procedure, "regulator")?.step.text).toContain("to 2.5 bar");
    expect(findStep(procedure, "bubbling")?.step.text).toContain("rise to 2.5 bar");
    expect(bandOf(procedure, "water")).toEqual({ min: 0.44, max: 0.46 });
    expect(bandOf(procedure, "pressure-read")).toEqual({ min: 240_000, max: 260_000 });
    expect(JSON.stringify(procedure)).not.toMatch(/\{(?:water|pressure)\}|"of":/);
  });

  test("say a volume and kilopascals where those are read", () => {
    const { rig: own, written: theirs } = WRITTEN_KINGFISHER;
    const { procedure } = good(documentsForShot(own, theirs, { water_kg: 0.3, setPressure_Pa: 200_000 }));
    expect(findStep(procedure, "water")?.step.text).toContain("with 300 mL of water");
    expect(findStep(procedure, "regulator")?.step.text).toContain("to 200 kPa");
    expect(bandOf(procedure, "line-read")).toEqual({ min: 190_000, max: 210_000 });
  });

  test("leave the written procedure as it is", () => {
    const before = structuredClone(written);
    documentsForShot(rig, written, shot);
    expect(written).toEqual(before);
  });

  test("are the usual ones where the shot is the rig's own", () => {
    const usual = { water_kg: rig.fill.water_kg, setPressure_Pa: rig.pressure.set_Pa };
    expect(good(documentsForShot(rig, written, usual))).toEqual({
      rig,
      procedure: withRigNumbers(written, rig),
    });
  });
});

describe("a procedure that states the numbers itself", () => {
  const stated = withRigNumbers(written, rig);

  test("serves the rig's own shot", () => {
    const usual = { water_kg: rig.fill.water_kg, setPressure_Pa: rig.pressure.set_Pa };
    expect(documentsForShot(rig, stated, usual).ok).toBe(true);
  });

  test("is refused for any other, at every band and every word, with what to write", () => {
    const refused = documentsForShot(rig, stated, shot);
    expect(codesOf(refused)).toEqual([
      "band-states-other at phases.filling[0].form.band",
      "words-state-other at phases.filling[0]",
      "band-states-other at phases.clearing[1].form.band",
      "words-state-other at phases.clearing[1]",
      "words-state-other at phases.charging[1]",
      "band-states-other at phases.charging[2].form.band",
    ]);
    expect(refused.ok ? [] : refused.issues.map(({ remedy }) => remedy)).toContain(
      "Write {pressure} instead, and have the procedure approved again.",
    );
  });

  test("is refused only for the number that differs", () => {
    const water = documentsForShot(rig, stated, { ...shot, setPressure_Pa: rig.pressure.set_Pa });
    expect(
      codesOf(water).every((found) => found.endsWith("phases.filling[0]") || found.includes("filling[0].")),
    ).toBe(true);
    expect(water.ok).toBe(false);
  });

  test("is found out by the same number in another unit", () => {
    const change = (step: Procedure["phases"]["charging"][number]) =>
      step.id === "bubbling" ? { ...step, text: "Let it rise to 43.5 psi." } : step;
    const psi = { ...written, phases: { ...written.phases, charging: written.phases.charging.map(change) } };
    expect(codesOf(documentsForShot(rig, psi, shot))).toEqual(["words-state-other at phases.charging[1]"]);
  });
});

prop.prop([
  fc.integer({ min: 0, max: WRITTEN.length - 1 }),
  fc.double({ min: 0, max: 2, noNaN: true }),
  fc.double({ min: 0, max: 600_000, noNaN: true }),
])(
  "whatever shot is planned is refused with words, or asked for exactly, within the owner's limits",
  (which, water_kg, setPressure_Pa) => {
    const { rig: own, written: theirs } = WRITTEN[which]!;
    const made = documentsForShot(own, theirs, { water_kg, setPressure_Pa });
    if (!made.ok) {
      for (const { detail, remedy } of made.issues) expect(detail.length * remedy.length).toBeGreaterThan(0);
      return;
    }
    const { rig: planned, procedure } = made.value;
    expect(planned.bottle).toEqual(own.bottle);
    expect(setPressure_Pa + own.pressure.tolerance_Pa).toBeLessThanOrEqual(own.bottle.limit_Pa);
    const water = bandOf(procedure, "water");
    expect(((water?.min ?? 0) + (water?.max ?? 0)) / 2).toBeCloseTo(water_kg, 9);
    const started = canStart(procedure, planned);
    // What the shot makes wrong is about distance or limits; never a number that was left open.
    if (!started.ok) expect(started.issues.map(({ code }) => code)).not.toContain("numbers-left-open");
  },
);
