// @vitest-environment happy-dom
import { cleanup, fireEvent, render, screen } from "@testing-library/preact";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { WRITTEN } from "../../../app/demo/written.ts";
import { pageTimer } from "../../../app/device/timer.ts";
import { keepMatrix, matrixQueue } from "../../../app/session/matrix-queue.ts";
import { Start, type StartProps } from "../../../app/start/start.tsx";
import { createMemoryFileStore } from "../../../app/storage/memory-file-store.ts";
import { createMemoryRunStore } from "../../../app/storage/memory-run-store.ts";
import { watchStore } from "../../../app/storage/watch-store.ts";
import { matrixText } from "../../../core/plan/matrix-file.ts";
import { failed, issue, ok } from "../../../core/result.ts";

afterEach(cleanup);

const plan = {
  water_kg: [0.45, 0.6],
  setPressure_Pa: [250_000, 480_000],
  replicates: 1,
  crews: ["Q"],
  seed: 3,
};
const begin = vi.fn<StartProps["begin"]>();
let props: StartProps;

beforeEach(() => {
  const chosen = new Map<string, string>();
  const preferences = {
    read: (key: string) => chosen.get(key),
    write: (key: string, to: string) => void chosen.set(key, to),
  };
  const ports = {
    files: createMemoryFileStore(),
    runs: watchStore(createMemoryRunStore(), pageTimer),
    preferences,
  };
  const rigs = WRITTEN.map(({ rig }) => rig);
  begin.mockReset().mockResolvedValue(ok(undefined));
  props = {
    ownStands: async () => ({ stands: [], faults: [] }),
    shipped: WRITTEN,
    standsAddress: "#/stands",
    runs: async () => ok([]),
    begin,
    queue: (documents) => matrixQueue(ports, documents),
    keepPlan: (text) => keepMatrix(ports, { text, at: 1, rigs }),
    readCodeAddress: "#/read-plan",
    readiness: async () => [],
    updates: { state: () => "current", subscribe: () => () => {}, apply: async () => "nothing-waiting" },
    faces: [],
    standAddress: (log) => `#/stand/${log}`,
    cardAddress: (rig, shot) => `#/card/${rig}/${shot?.water_kg ?? ""}`,
    version: "test",
  };
});

const bring = (text: string) =>
  fireEvent.change(screen.getByLabelText("Choose its file"), {
    target: { files: [new File([text], "matrix-heron.json")] },
  });

test("where no plan was brought in, the start page offers runs and no queue", async () => {
  render(<Start {...props} />);
  await screen.findByText("No run on this device yet.");
  expect(screen.queryByRole("region", { name: "Planned shots" })).toBeNull();
});

test("a plan's file that is brought in shows at once what is next, and what is still to run", async () => {
  render(<Start {...props} />);
  bring(matrixText("heron", plan));
  await screen.findByText('Kept: 4 shots for the stand "heron".');
  const queue = await screen.findByRole("region", { name: "Planned shots" });
  expect(queue.textContent).toContain("Planned: 0 of 4 run, 4 to run.");
  expect(queue.textContent).toMatch(/Next, shot 1 of 4: crew Q, block 1 of 1/);
  expect(screen.getAllByRole("region", { name: "Planned shots" })).toHaveLength(1);
});

test("the shot that is started carries the planned water and pressure", async () => {
  await props.keepPlan(matrixText("heron", { ...plan, setPressure_Pa: [250_000] }));
  render(<Start {...props} />);
  fireEvent.click(await screen.findByRole("button", { name: "Start this shot" }));
  const shown = document.querySelector(".queue-numbers")?.textContent ?? "";
  const [, grams] = /^(\d+) g at 2\.5 bar$/.exec(shown) ?? [];
  expect(begin).toHaveBeenCalledOnce();
  const [documents, how] = begin.mock.calls[0]!;
  expect(documents.rig.id).toBe("heron");
  expect(how).toMatchObject({
    drill: false,
    shot: { water_kg: Number(grams) / 1000, setPressure_Pa: 250_000 },
  });
});

test("a shot that the stand refuses says why, and cannot be started; another can instead", async () => {
  await props.keepPlan(matrixText("heron", plan));
  render(<Start {...props} />);
  const queue = await screen.findByRole("region", { name: "Planned shots" });
  const offers = [...queue.querySelectorAll("button")];
  const open = offers.filter((button) => button.getAttribute("aria-disabled") !== "true");
  expect([offers.length, open.length]).toEqual([4, 2]);
  expect(queue.textContent).toMatch(/Refused|supply may work down to 400000 Pa/);
  for (const button of offers) fireEvent.click(button);
  expect(begin.mock.calls.map(([, how]) => how.shot?.setPressure_Pa)).toEqual([250_000, 250_000]);
});

test("a file that is no plan, and a start that is refused, are said in words", async () => {
  begin.mockResolvedValue(failed(issue("part-worn", "the rig", "the cord is worn", "Change it.")));
  await props.keepPlan(matrixText("heron", { ...plan, setPressure_Pa: [250_000] }));
  render(<Start {...props} />);
  bring("not a plan");
  expect(await screen.findByText("It is not JSON. Take the file that the plan saved.")).toBeTruthy();
  fireEvent.click(await screen.findByRole("button", { name: "Start this shot" }));
  expect(await screen.findByText("The cord is worn. Change it.")).toBeTruthy();
});
