// @vitest-environment happy-dom
import { act, cleanup, fireEvent, screen } from "@testing-library/preact";
import { afterEach, expect, it } from "vitest";
import type { LiveRun } from "../../../app/session/live-run.ts";
import { stepAtHand } from "../../../core/sequence/context.ts";
import type { RestraintAnswer, SequenceEvent } from "../../../core/sequence/vocabulary.ts";
import { LoggedWalk } from "../../core/review/logged-walk.ts";
import { CREW } from "../../model/walk.ts";
import { breathe } from "../../simulation/virtual-time.ts";
import { type Page, start, World } from "../../simulation/world.ts";
import { press, show } from "./at-stand.tsx";

afterEach(cleanup);

/** What a nominal walk says up to there, to be said again to the real session. */
const saidUntil = (stop: (walk: LoggedWalk) => boolean): readonly [SequenceEvent, string][] => {
  const walk = new LoggedWalk();
  walk.signOn();
  while (!stop(walk)) {
    if (stepAtHand(walk.sequence.doc, walk.snapshot)) walk.step();
    else walk.to(NEXT[walk.state] ?? "closed");
  }
  return walk.entries.flatMap(({ event, by }) =>
    event.type === "opened" || event.type === "kept" ? [] : [[event, by] as [SequenceEvent, string]],
  );
};

const NEXT: { readonly [state: string]: "filling" | "sealing" | "mounting" | "restraining" | "clearing" } = {
  preparing: "filling",
  filling: "sealing",
  sealing: "mounting",
  mounting: "restraining",
  restraining: "clearing",
};

const tell = async (run: LiveRun, said: readonly [SequenceEvent, string][]): Promise<void> => {
  for (const [event, by] of said)
    expect(await run.send(event, { by }), event.type).toEqual({ kind: "accepted" });
};

/** A device, its page and a run told so far. */
const told = async (
  stop: (walk: LoggedWalk) => boolean,
): Promise<{ world: World; page: Page; run: LiveRun }> => {
  const world = new World();
  const page = world.page();
  const run = await start(page);
  await tell(run, saidUntil(stop));
  return { world, page, run };
};

const atRestraints = (walk: LoggedWalk): boolean =>
  stepAtHand(walk.sequence.doc, walk.snapshot)?.form.kind === "each-restraint";

const firstLooks = async (run: LiveRun, found: RestraintAnswer | undefined): Promise<void> => {
  const look = (restraint: string, answer: RestraintAnswer) =>
    run.send({ type: "restraint-answered", restraint, round: 1, answer, seenBy: CREW.installer });
  for (const id of ["A", "B", "C", "D"]) {
    if (id === "C" && found) await look(id, found);
    await look(id, "home");
  }
  const reading = { kind: "single", typed: "160", unit: "N", instrument: "spring balance" } as const;
  await run.send({ type: "step-done", step: "pull", seenBy: CREW.installer, reading });
  await run.send({ type: "handed-over", to: CREW.verifier });
};

it("shows the verifier the same page whatever the first looks found", async () => {
  const pages: string[] = [];
  for (const found of [undefined, "part", "open"] as const) {
    const { run } = await told(atRestraints);
    await firstLooks(run, found);
    const container = show(run);
    expect(screen.getByRole("heading", { level: 1 }).textContent).toContain("Touch latch D");
    pages.push(container.innerHTML);
    cleanup();
  }
  expect(pages[1]).toBe(pages[0]);
  expect(pages[2]).toBe(pages[0]);
});

it("has no control that completes a restraint by itself, and nothing preselected", async () => {
  const { run } = await told(atRestraints);
  await firstLooks(run, undefined);
  const container = show(run);
  const answers = [...container.querySelectorAll(".answers button")].map((button) => button.textContent);
  expect(answers.toSorted()).toEqual(["Cannot see", "Fully home", "Open", "Part closed"]);
  expect(container.querySelectorAll(".answers [aria-pressed], .answers [checked]")).toHaveLength(0);
});

it("refuses the hand-over to any code but the verifier's, and logs the try", async () => {
  const { run } = await told((walk) => {
    const step = stepAtHand(walk.sequence.doc, walk.snapshot);
    return step?.form.kind === "each-restraint" && step.form.round === 2;
  });
  show(run);
  const field = screen.getByLabelText(/type your own code/);
  fireEvent.input(field, { target: { value: CREW.installer } });
  fireEvent.keyDown(field, { key: "Enter" });
  expect(screen.getByRole("alert").textContent).toContain("not the verifier's code");
  await act(breathe);
  expect(run.view().snapshot.context.holder).toBe(CREW.conductor);
  expect(run.view().entries.at(-1)?.event).toMatchObject({ type: "refused", missing: ["wrong-code"] });
});

it("keeps hold and make safe on the page while a menu, a form or a notice is open", async () => {
  const { run } = await told((walk) => walk.state === "sealing");
  show(run);
  for (const name of ["Say what happened", "Menu…", "Crew and phone…"]) {
    await press(name);
    expect(screen.getByRole("button", { name: "Hold" })).toBeDefined();
    expect(screen.getByRole("button", { name: "Make safe" })).toBeDefined();
  }
  await press("Back to the run");
  expect(screen.getByRole("button", { name: "Say what happened" })).toBeDefined();
});

it("lands on the hold at once, and says who, at which step and what must be proved again", async () => {
  const { run } = await told((walk) => walk.state === "clearing");
  show(run);
  await press("Say what happened");
  await press("Latch B open");
  expect(screen.getByRole("heading", { level: 1 }).textContent).toBe("B was seen open");
  expect(screen.getByText(/first look A, B, C, D; pull test; second look A, B, C, D/)).toBeDefined();
});

it("says NOT SAVED and opens nothing when the store refuses, and goes on when it writes again", async () => {
  const { world, page, run } = await told((walk) => walk.state === "sealing");
  show(run);
  page.store.strike("quota", 100);
  await press("Ran free by itself");
  await act(() => world.time.pass(10_000));
  expect(screen.getByRole("alert").textContent).toContain("NOT SAVED");
  expect(run.view().snapshot.context.steps["slide-dry"]).toBeUndefined();
  page.store.heal();
  await press("Try again");
  await act(() => world.time.pass(1000));
  expect(screen.queryByRole("alert")).toBeNull();
  await press("Ran free by itself");
  await act(() => world.time.pass(1000));
  expect(run.view().snapshot.context.steps["slide-dry"]).toBeDefined();
});
