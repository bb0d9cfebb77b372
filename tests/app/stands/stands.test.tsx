// @vitest-environment happy-dom
import { cleanup, fireEvent, render, screen, within } from "@testing-library/preact";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { WRITTEN, WRITTEN_HERON } from "../../../app/demo/written.ts";
import { keptStands } from "../../../app/session/kept-stands.ts";
import { Stands, type StandsPorts } from "../../../app/stands/stands.tsx";
import { createMemoryFileStore } from "../../../app/storage/memory-file-store.ts";
import { standText } from "../../../core/exchange/stand-text.ts";
import { failed, issue, ok } from "../../../core/result.ts";
import { editJson } from "../../edit-json.ts";

afterEach(cleanup);

const save = vi.fn<StandsPorts["transfer"]["save"]>();
const share = vi.fn<StandsPorts["transfer"]["share"]>();
let ports: StandsPorts;

beforeEach(() => {
  const chosen = new Map<string, string>();
  save.mockReset().mockReturnValue(ok("handed"));
  share.mockReset().mockResolvedValue(ok("not-supported"));
  ports = {
    files: createMemoryFileStore(),
    preferences: { read: (key) => chosen.get(key), write: (key, to) => void chosen.set(key, to) },
    shipped: WRITTEN,
    transfer: { save, share },
    now_ms: () => Date.UTC(2026, 5, 1),
    ShowCodes: ({ text, onClose }) => (
      <button type="button" onClick={onClose}>
        {`codes of ${JSON.parse(text).rig.id}`}
      </button>
    ),
    ReadCodes: ({ onText }) => (
      <button type="button" onClick={() => onText(kestrel(), "kestrel")}>
        seen
      </button>
    ),
    cardAddress: (rig) => `#/card/${rig}`,
  };
});

const kestrel = (edits: Readonly<Record<string, unknown>> = {}): string =>
  editJson(standText(WRITTEN_HERON), {
    "rig.id": "kestrel",
    "rig.name": "Kestrel",
    "procedure.id": "kestrel-run",
    "procedure.forRig": "kestrel",
    ...edits,
  });
const bring = (...texts: readonly string[]) =>
  fireEvent.change(screen.getByLabelText("Choose files"), {
    target: { files: texts.map((text, i) => new File([text], `file-${i}.json`)) },
  });
const shown = async () => {
  render(<Stands ports={ports} home="#/" />);
  await screen.findByText(/^None yet/);
};
const check = () => screen.findByRole("region", { name: "Kestrel: look before you keep it" });
const press = (name: string, place: HTMLElement = document.body) =>
  fireEvent.click(within(place).getByRole("button", { name }));

test("what was read is shown before it is kept, and kept on a word", async () => {
  await shown();
  bring(kestrel());
  const region = await check();
  expect(region.textContent).toContain("5 bar");
  expect((await keptStands(ports)).stands).toEqual([]);
  press("Keep this stand", region);
  await screen.findByText(/^Kept: Kestrel/);
  expect((await keptStands(ports)).stands.map(({ rig }) => rig.id)).toEqual(["kestrel"]);
});

test("what is left stays out", async () => {
  await shown();
  bring(kestrel());
  press("Leave it", await check());
  expect(screen.queryByText("Keep this stand")).toBeNull();
  expect((await keptStands(ports)).stands).toEqual([]);
});

test("a file with faults lists them and is not offered for keeping; a file too large is not read", async () => {
  await shown();
  bring(kestrel({ "rig.bottle.limit_Pa": 200_000, "rig.pull": undefined }));
  const list = await screen.findByRole("region", { name: /^Not kept: \d+ faults$/ });
  expect(list.textContent).toContain("file-0.json, rig, pull");
  expect(screen.queryByText("Keep this stand")).toBeNull();
  press("Close the list", list);
  bring("x".repeat(1_000_001));
  await screen.findByText("file-0.json");
  expect(screen.getByText(/larger than any stand/)).toBeDefined();
});

test("a procedure that nobody approved is approved here, by anybody but its author", async () => {
  await shown();
  const draft = kestrel({ "procedure.approvedBy": undefined });
  bring(draft);
  const region = await check();
  expect(region.textContent).toContain("No run can be started on it as it is:");
  const approve = (place: HTMLElement, by: string) => {
    fireEvent.input(within(place).getByRole("textbox"), { target: { value: by } });
    press("Approve it", place);
  };
  approve(region, WRITTEN_HERON.written.author);
  expect((await within(await check()).findByRole("alert")).textContent).toContain("wrote it and approved it");
  approve(await check(), "R7");
  await within(await check()).findByText("R7");
  expect((await check()).textContent).not.toContain("No run can be started");
  press("Keep this stand", await check());
  await screen.findByText(/^Kept: Kestrel/);
  expect((await keptStands(ports)).stands[0]?.written.approvedBy).toBe("R7");
});

test("a stand read off another screen is looked at like any other", async () => {
  await shown();
  press("Read codes");
  press("seen");
  expect((await check()).textContent).toContain("5 bar");
});

test("a stand goes on by share sheet, download or codes, and what became of it is said", async () => {
  await shown();
  const heron = screen.getByRole("article", { name: WRITTEN_HERON.rig.name });
  press("Share its file", heron);
  await screen.findByText(/This browser shares no files/);
  press("Save its file", heron);
  await screen.findByText(/A copy of its file/);
  expect(save).toHaveBeenCalledWith("stand-heron.json", standText(WRITTEN_HERON));
  save.mockReturnValue(failed(issue("share-refused", "x", "the device said no", "Use the codes.")));
  press("Save its file", heron);
  await screen.findByText(/The device said no/);
  press("Show as codes", heron);
  press("codes of heron");
  await screen.findByRole("heading", { name: "Stands" });
});

test("a stand is put away and brought back; one that cannot be read is named", async () => {
  const bytes = new TextEncoder().encode("{}").buffer;
  await ports.files.put({ name: "stand-broken.json", kind: "stand", at: 1, bytes });
  render(<Stands ports={ports} home="#/" />);
  await screen.findByRole("alert");
  expect(screen.queryByText(/^None yet/)).toBeNull();
  expect(screen.getByRole("alert").textContent).toContain("stand-broken.json");
  bring(kestrel());
  press("Keep this stand", await check());
  press("Put away", await screen.findByRole("article", { name: "Kestrel" }));
  await screen.findByRole("heading", { name: "Put away" });
  press("Bring back", screen.getByRole("article", { name: "Kestrel" }));
  await screen.findByText("Kestrel is back.");
  expect((await keptStands(ports)).stands).toHaveLength(1);
});

test("a draft that was kept waits, and is read and approved from the list", async () => {
  await shown();
  bring(kestrel({ "procedure.approvedBy": undefined }));
  press("Keep this stand", await check());
  await screen.findByText(/It waits for somebody to approve/);
  press("Read and approve", await screen.findByRole("article", { name: "Kestrel" }));
  const region = await check();
  expect(region.textContent).toContain(WRITTEN_HERON.written.phases.filling[0]?.text);
  fireEvent.input(within(region).getByRole("textbox"), { target: { value: "R7" } });
  press("Approve it", region);
  await within(await check()).findByText("R7");
  press("Keep this stand", await check());
  await screen.findByText(/Runs are started on it/);
  expect((await keptStands(ports)).stands[0]?.written.approvedBy).toBe("R7");
});

test("a stand that sounds like another is said to", async () => {
  await shown();
  bring(kestrel({ "rig.name": WRITTEN_HERON.rig.name }));
  const region = await screen.findByRole("region", { name: /look before you keep it$/ });
  expect(region.textContent).toContain(`Its letter ${WRITTEN_HERON.rig.letter} is also that of`);
  expect(region.textContent).toContain("the same name");
});
