// @vitest-environment happy-dom
import { cleanup, fireEvent, render, screen, within } from "@testing-library/preact";
import { afterEach, expect, test } from "vitest";
import { HERON } from "../../../app/demo/documents.ts";
import type { StoredRun } from "../../../app/ports.ts";
import { Review } from "../../../app/review/review.tsx";
import type { ReviewPorts } from "../../../app/review/use-review.ts";
import { keepSignOff, keptSignOffs } from "../../../app/session/sign-offs.ts";
import { createMemoryFileStore } from "../../../app/storage/memory-file-store.ts";
import { type Issue, issue, ok } from "../../../core/result.ts";
import { LoggedWalk } from "../../core/review/logged-walk.ts";
import { CREW } from "../../model/walk.ts";

afterEach(cleanup);

const stored = (walk: LoggedWalk): StoredRun => ({
  log: "log",
  code: "H-329-04",
  documents: HERON,
  entries: walk.entries,
});

const mismatched = (): StoredRun => {
  const walk = new LoggedWalk().to("restraining") as LoggedWalk;
  walk.step();
  walk.firstLooks().step();
  walk.say({ type: "handed-over", to: CREW.verifier });
  walk.look(2, "D", "open");
  return stored(walk);
};

const portsOf = (runs: readonly StoredRun[], faults: readonly Issue[] = []): ReviewPorts => {
  const files = createMemoryFileStore();
  return {
    runs: async () => ok({ runs: runs.map((run) => ({ faults: [], ...run })), faults }),
    signOffs: () => keptSignOffs(files),
    sign: (signed) => keepSignOff(files, signed),
    now_ms: () => 1_780_000_000_000,
  };
};

const show = async (...runs: StoredRun[]) => {
  render(<Review ports={portsOf(runs)} home="#/" />);
  await screen.findByRole("heading", { name: "Runs" });
  fireEvent.click(screen.getByRole("button", { name: "H-329-04" }));
};

test("says so where there is no run yet, and lists what could not be read", async () => {
  const faults = [issue("entry-changed", "line 7", "it does not fit", "copy it again")];
  render(<Review ports={portsOf([], faults)} home="#/" />);
  expect((await screen.findByRole("alert")).textContent).toContain("line 7");
  expect(screen.getByText(/No run on this device yet/)).toBeDefined();
});

test("shows a mismatch first, in red, with the entry that shows it beside the raw log", async () => {
  const run = mismatched();
  await show(run);
  const [first] = within(screen.getByRole("region", { name: "To look at" })).getAllByRole("listitem");
  expect(first?.textContent).toContain("Red");
  expect(first?.textContent).toContain("D found “open” at the second look");
  const log = screen.getByRole("region", { name: "The log, entry by entry" });
  expect(within(log).getAllByRole("row")).toHaveLength(run.entries.length + 1);
  const button = within(first as HTMLElement).getByRole("button");
  fireEvent.click(button);
  expect(document.activeElement?.id).toBe(`entry-${button.textContent?.replace("Entry ", "")}`);
});

test("puts each restraint's two looks side by side, with who and which entry", async () => {
  await show(mismatched());
  const table = screen.getByRole("region", { name: "Each restraint, twice" });
  const row = within(table).getByRole("row", { name: /^D/ });
  expect(row.textContent).toContain(`, ${CREW.installer}, entry`);
  expect(row.textContent).toContain(`, ${CREW.verifier}, entry`);
  expect(within(table).getByRole("row", { name: /^A/ }).textContent).toContain("not looked at");
});

test("a clean run says that there is nothing to look at", async () => {
  await show(stored(new LoggedWalk().to("closed") as LoggedWalk));
  expect(screen.getByText(/Nothing skipped, hurried/)).toBeDefined();
});

const scrubbed = (): StoredRun => {
  const walk = new LoggedWalk().to("filling") as LoggedWalk;
  walk.say({ type: "scrub-called", why: "rain" });
  return stored(walk);
};
const sheet = () => within(screen.getByRole("region", { name: "Sign-off" }));
const signAs = (code: string) => {
  fireEvent.input(sheet().getByLabelText("Your code"), { target: { value: code } });
  fireEvent.click(sheet().getByRole("button", { name: "Sign this review" }));
};

test("a run that is open waits for its end before anybody signs", async () => {
  await show(mismatched());
  expect(sheet().queryByRole("button")).toBeNull();
  expect(sheet().getByText(/when it is closed or scrubbed/)).toBeDefined();
});

test("whoever was of the crew is turned away, somebody else signs, and the list says so", async () => {
  await show(scrubbed());
  signAs(CREW.verifier);
  expect((await sheet().findByRole("alert")).textContent).toContain(
    `${CREW.verifier.toUpperCase()} held a role`,
  );
  fireEvent.click(sheet().getByLabelText("to be followed up"));
  signAs("r9");
  expect((await sheet().findByRole("alert")).textContent).toMatch(/not said/);
  fireEvent.input(sheet().getByLabelText("In words"), { target: { value: "Talk about rain." } });
  signAs("r9");
  expect((await sheet().findByText(/R9: to be followed up/)).parentElement?.textContent).toContain(
    "Talk about rain.",
  );
  expect(sheet().queryByRole("alert")).toBeNull();
  fireEvent.click(screen.getByRole("button", { name: "All runs" }));
  expect((await screen.findByRole("row", { name: /^H-329-04/ })).textContent).toContain(
    "R9: to be followed up.",
  );
});

test("a run whose chain is broken is marked as such, and signed by nobody", async () => {
  const faults = [issue("entry-changed", "H-329-04, entry 2", "it does not fit", "copy it again")];
  await show({ ...scrubbed(), faults } as StoredRun);
  expect(screen.getByText(/LOG NOT WHOLE/)).toBeDefined();
  signAs("R9");
  expect((await sheet().findByRole("alert")).textContent).toContain("not whole");
  fireEvent.click(screen.getByRole("button", { name: "All runs" }));
  expect((await screen.findByRole("row", { name: /^H-329-04/ })).textContent).toMatch(
    /LOG NOT WHOLE.*not yet/,
  );
});

test("two taps sign once, and the code is gone for whoever comes next", async () => {
  await show(scrubbed());
  signAs("R9");
  fireEvent.click(sheet().getByRole("button", { name: "Sign this review" }));
  await sheet().findByText("Signed by R9.");
  fireEvent.click(sheet().getByRole("button", { name: "Sign this review" }));
  expect(sheet().getAllByText(/R9: seen/)).toHaveLength(1);
  expect((sheet().getByLabelText("Your code") as HTMLInputElement).value).toBe("");
  expect(sheet().queryByRole("alert")).toBeNull();
});
