import { describe, expect, it } from "vitest";
import { HERON, KINGFISHER } from "../../../app/demo/documents.ts";
import { PHASES, type Procedure } from "../../../core/procedure/procedure.ts";
import { walkNominalRun } from "./happy-path.ts";

const steps = (procedure: Procedure) => PHASES.flatMap((phase) => procedure.phases[phase]);

const counted = (events: readonly { type: string }[]): Record<string, number> => {
  const counts: Record<string, number> = {};
  for (const { type } of events) counts[type] = (counts[type] ?? 0) + 1;
  return counts;
};

describe.each([
  { name: "Heron, emptied by its release", documents: HERON, restraints: 4 },
  { name: "Kingfisher, emptied by its vent", documents: KINGFISHER, restraints: 3 },
])("a nominal run on $name", ({ documents, restraints }) => {
  const { snapshot, events } = walkNominalRun(documents);

  it("goes from preparing to closed without one refusal", () => {
    expect(snapshot.state).toBe("closed");
    expect(snapshot.context.release).toMatchObject({ called: true, onTime: true });
    expect(snapshot.context.hold).toBeUndefined();
  });

  it("is said with one entry a step, two answers a restraint and two hand-overs", () => {
    const counts = counted(events);
    expect(counts).toMatchObject({
      "signed-on": 5,
      "restraint-answered": 2 * restraints,
      "handed-over": 2,
      "step-done": steps(documents.procedure).filter(({ form }) => form.kind !== "each-restraint").length,
    });
  });
});

it("leaves room for 70 taps: an entry is a tap, but routine acts in a row share a screen", () => {
  const { events } = walkNominalRun(HERON);
  const list = steps(HERON.procedure);
  const routine = (index: number) => {
    const step = list[index];
    return step?.form.kind === "act" && step.proves.length === 0 ? step.role : undefined;
  };
  const shared = list.filter((_, index) => routine(index) && routine(index) === routine(index - 1)).length;
  const taps = events.length - shared;
  console.log(`Heron: ${events.length} entries, ${shared} share a screen: ${taps} taps at one an entry`);
  expect(taps).toBeLessThanOrEqual(64);
});
