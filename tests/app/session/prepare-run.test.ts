import { expect, test } from "vitest";
import { WRITTEN_HERON } from "../../../app/demo/written.ts";
import { pageTimer } from "../../../app/device/timer.ts";
import { prepareRun } from "../../../app/session/prepare-run.ts";
import { createMemoryRunStore } from "../../../app/storage/memory-run-store.ts";
import { watchStore } from "../../../app/storage/watch-store.ts";
import { findStep } from "../../../core/procedure/procedure.ts";
import type { Result } from "../../../core/result.ts";

const asked = {
  ...WRITTEN_HERON,
  today: new Date(2026, 10, 25),
  phone: 1,
  log: "log1",
  drill: false,
  software: "fourfast test",
};
const good = <T>(result: Result<T>): T => {
  if (!result.ok) throw new Error(JSON.stringify(result.issues));
  return result.value;
};

test("a planned shot's run goes by its numbers: in its rig, in its bands, in its words", async () => {
  const shot = { water_kg: 0.5, setPressure_Pa: 280_000 };
  const { documents, code } = good(
    await prepareRun(watchStore(createMemoryRunStore(), pageTimer), { ...asked, shot }),
  );
  expect(code).toBe("H-329-01");
  expect([documents.rig.fill.water_kg, documents.rig.pressure.set_Pa]).toEqual([0.5, 280_000]);
  expect(findStep(documents.procedure, "water")?.step).toMatchObject({
    text: "Fill the bottle with 500 g of water, by weight or by vessel.",
    form: { band: { min: 0.49, max: 0.51 } },
  });
});

test("without a shot it goes by the rig as its owner wrote it", async () => {
  const { documents } = good(await prepareRun(watchStore(createMemoryRunStore(), pageTimer), asked));
  expect(documents.rig).toEqual(WRITTEN_HERON.rig);
});

test("a shot beyond the owner's limits opens no run, and a faulty procedure neither", async () => {
  const codes = async (more: object) => {
    const run = await prepareRun(watchStore(createMemoryRunStore(), pageTimer), { ...asked, ...more });
    return run.ok ? [] : run.issues.map(({ code }) => code);
  };
  expect(await codes({ shot: { water_kg: 0.6, setPressure_Pa: 510_000 } })).toContain("limit-below-set");
  const { approvedBy: _, ...unsigned } = WRITTEN_HERON.written;
  expect(await codes({ written: unsigned })).toContain("not-approved");
});
