import { describe, expect, it } from "vitest";
import { inOneGo, smallRig, stepByStep } from "../../model/small-documents.ts";
import { Walk } from "../../model/walk.ts";

const rigs = ([2, 3, 4] as const).flatMap((restraints) =>
  (["vent", "release"] as const).map((emptying) => smallRig({ restraints, emptying })),
);

describe.each(rigs)("a nominal run on $id", (rig) => {
  it.each([stepByStep(rig), inOneGo(rig)])("goes from preparing to closed by $id", (procedure) => {
    const walk = new Walk(rig, procedure).to("closed");
    expect(walk.snapshot.context.hold).toBeUndefined();
    expect(walk.snapshot.context.release).toMatchObject({ onTime: true, called: true });
  });
});
