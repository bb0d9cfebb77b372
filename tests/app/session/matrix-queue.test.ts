import { beforeEach, describe, expect, test } from "vitest";
import { termRuns } from "../../../app/demo/term/term.ts";
import { WRITTEN_HERON } from "../../../app/demo/written.ts";
import { pageTimer } from "../../../app/device/timer.ts";
import type { Preferences } from "../../../app/ports.ts";
import { keepMatrix, keptMatrix, matrixQueue } from "../../../app/session/matrix-queue.ts";
import { createMemoryFileStore } from "../../../app/storage/memory-file-store.ts";
import { createMemoryRunStore } from "../../../app/storage/memory-run-store.ts";
import { watchStore } from "../../../app/storage/watch-store.ts";
import { matrixText } from "../../../core/plan/matrix-file.ts";
import type { MatrixPlan } from "../../../core/plan/test-matrix.ts";
import type { Result } from "../../../core/result.ts";

const { rig } = WRITTEN_HERON;
const plan: MatrixPlan = {
  water_kg: [0.45, 0.6],
  setPressure_Pa: [250_000, 300_000],
  replicates: 2,
  crews: ["P", "Q"],
  seed: 5,
};
const good = <T>(result: Result<T>): T => {
  if (!result.ok) throw new Error(JSON.stringify(result.issues));
  return result.value;
};

const device = () => {
  const chosen = new Map<string, string>();
  const preferences: Preferences = {
    read: (key) => chosen.get(key),
    write: (key, to) => chosen.set(key, to),
  };
  return { files: createMemoryFileStore(), runs: watchStore(createMemoryRunStore(), pageTimer), preferences };
};
let ports: ReturnType<typeof device>;
beforeEach(() => {
  ports = device();
});
const keep = (text: string, at = 1) => keepMatrix(ports, { text, at, rigs: [rig] });

describe("the matrix that a stand goes by", () => {
  test("is the one kept last, also where it was kept before another", async () => {
    const [first, second] = [matrixText("heron", plan), matrixText("heron", { ...plan, seed: 6 })];
    good(await keep(first, 1));
    good(await keep(second, 2));
    expect(good(await keptMatrix(ports, "heron"))?.text).toBe(second);
    good(await keep(first, 3));
    expect(good(await keptMatrix(ports, "heron"))?.text).toBe(first);
  });

  test("is none until one is kept, and none of another stand's", async () => {
    expect(good(await matrixQueue(ports, WRITTEN_HERON))).toBeUndefined();
    good(await keep(matrixText("heron", plan)));
    expect(good(await keptMatrix(ports, "kingfisher"))).toBeUndefined();
  });

  test("is refused for a stand that this device does not know, and where it is no matrix", async () => {
    const codes = async (text: string) => {
      const kept = await keep(text);
      return kept.ok ? [] : kept.issues.map(({ code }) => code);
    };
    expect(await codes(matrixText("osprey", plan))).toEqual(["matrix-other-stand"]);
    expect(await codes("{}")).toEqual(["matrix-unreadable"]);
    expect(good(await keptMatrix(ports, "heron"))).toBeUndefined();
  });
});

describe("what is still to run", () => {
  test("is every shot in the order of the plan, in the units of the stand's instruments", async () => {
    good(await keep(matrixText("heron", plan)));
    const queue = good(await matrixQueue(ports, WRITTEN_HERON));
    expect(queue).toMatchObject({ shots: 8, done: 0, blocks: 2, synthetic: false });
    expect(queue?.toRun.map(({ order }) => order)).toEqual([1, 2, 3, 4, 5, 6, 7, 8]);
    expect(queue?.toRun.slice(0, 4).map(({ crew }) => crew)).toEqual(["P", "P", "P", "P"]);
    for (const { water, water_kg, pressure, setPressure_Pa } of queue?.toRun ?? []) {
      expect(water).toBe(`${water_kg * 1000} g`);
      expect(pressure).toBe(`${(setPressure_Pa / 1e5).toFixed(1)} bar`);
    }
  });

  test("leaves out what a run of that crew and level has done, and names a run beside the plan", async () => {
    const [made, other] = [...termRuns()];
    const { fill, pressure } = made!.documents.rig;
    const narrow = { ...plan, water_kg: [fill.water_kg], setPressure_Pa: [pressure.set_Pa] };
    for (const run of [made!, other!]) {
      good(await ports.runs.create(run.log, run.plan.code, run.documents));
      for (const entry of run.entries) good(await ports.runs.append(entry));
    }
    good(await keep(matrixText("heron", narrow)));
    const queue = good(await matrixQueue(ports, WRITTEN_HERON));
    expect(queue).toMatchObject({ done: 1, shots: 2, beside: [other!.plan.code] });
    expect(queue?.toRun.map(({ crew }) => crew)).toEqual(["Q"]);
  });

  test("says with words which shots the stand refuses, and offers the others", async () => {
    good(await keep(matrixText("heron", { ...plan, setPressure_Pa: [250_000, 480_000] })));
    const toRun = good(await matrixQueue(ports, WRITTEN_HERON))?.toRun ?? [];
    for (const { setPressure_Pa, refusal } of toRun)
      expect(refusal.map(({ code }) => code)).toEqual(setPressure_Pa > 400_000 ? ["supply-under-set"] : []);
    expect(toRun.filter(({ refusal }) => refusal.length > 0)).toHaveLength(4);
  });
});
