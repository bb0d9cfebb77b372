// @vitest-environment happy-dom
import { cleanup, fireEvent, render, screen, waitFor } from "@testing-library/preact";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { ReadFrames } from "../../../app/carry/read-frames.tsx";
import { termRuns } from "../../../app/demo/term/term.ts";
import type { Camera, CodeSight, OpenCamera } from "../../../app/ports.ts";
import { CODE_SIZES, makeFrames } from "../../../core/exchange/qr-frames.ts";
import { writeRunFile } from "../../../core/exchange/run-file.ts";
import { failed, issue, ok } from "../../../core/result.ts";

const [first, second] = [...termRuns()].slice(0, 2).map(({ plan, log, documents, entries }) => {
  const text = writeRunFile({ run: plan.code, log, ...documents, entries });
  const made = text.ok ? makeFrames(text.value, CODE_SIZES.coarse.frame_bytes) : text;
  if (!text.ok || !made.ok) throw new Error("the demo term has no such run");
  return { text: text.value, code: plan.code, frames: made.value.frames };
}) as [Sent, Sent];
type Sent = { readonly text: string; readonly code: string; readonly frames: readonly Uint8Array[] };

beforeEach(() => {
  // A document without pictures: the video has a size, and its pixels are nobody's business here.
  Object.defineProperties(HTMLVideoElement.prototype, {
    videoWidth: { value: 64, configurable: true },
    videoHeight: { value: 48, configurable: true },
  });
  vi.spyOn(HTMLMediaElement.prototype, "play").mockResolvedValue();
  const pen = { drawImage: () => {}, getImageData: () => ({ data: new Uint8ClampedArray(4) }) };
  vi.spyOn(HTMLCanvasElement.prototype, "getContext").mockReturnValue(pen as never);
});
afterEach(() => {
  cleanup();
  vi.restoreAllMocks();
});

const onText = vi.fn();
const onClose = vi.fn();

const seeing = (codes: readonly (Uint8Array | undefined)[]) => {
  const left = [...codes];
  const sight: CodeSight = {
    read: async () => left.shift() ?? new Promise((resolve) => setTimeout(resolve, 5)),
  };
  return { sight, show: (...more: readonly Uint8Array[]) => left.push(...more) };
};

const on = () => {
  const open: OpenCamera = { stream: new MediaStream(), ended: new Promise(() => {}), close: vi.fn() };
  const camera: Camera = { open: async () => ok(open), list: async () => [] };
  return { open, camera };
};

const shown = (camera: Camera, sight: CodeSight) => {
  onText.mockReset();
  onClose.mockReset();
  return render(<ReadFrames what="run" {...{ camera, sight, onText, onClose }} />);
};

test("a run is given once, whole, when its last code is in, blurred pictures and repeats between", async () => {
  const shuffled = [...first.frames.slice(5), undefined, ...first.frames, undefined];
  const { sight } = seeing(shuffled);
  const { camera, open } = on();
  const { unmount } = shown(camera, sight);
  await waitFor(() => expect(onText).toHaveBeenCalledExactlyOnceWith(first.text, first.code));
  unmount();
  await waitFor(() => expect(open.close).toHaveBeenCalled());
});

test("it says how many codes are in, and which are missing once they are few", async () => {
  const { sight } = seeing(first.frames.filter((_, i) => i !== 2 && i !== 4));
  shown(on().camera, sight);
  const { length } = first.frames;
  await screen.findByText(`${length - 2} of ${length}`);
  expect(document.body.textContent).toContain("Missing: 3, 5.");
  expect(screen.getByRole("progressbar").getAttribute("value")).toBe(String(length - 2));
  expect(onText).not.toHaveBeenCalled();
});

test("codes of another run are named and left out, until a person turns to them", async () => {
  const { sight, show } = seeing([...first.frames.slice(0, 3), ...second.frames.slice(0, 1)]);
  shown(on().camera, sight);
  fireEvent.click(await screen.findByRole("button", { name: `Read ${second.code} instead` }));
  show(...second.frames);
  await waitFor(() => expect(onText).toHaveBeenCalledExactlyOnceWith(second.text, second.code));
});

test("a code from elsewhere is told for what it is", async () => {
  const { sight } = seeing([new TextEncoder().encode("https://example.org/")]);
  shown(on().camera, sight);
  expect((await screen.findByText(/none of Fourfast's/)).getAttribute("role")).toBe("status");
});

test("a camera that is refused leaves the other ways, and can be tried again", async () => {
  const no = failed(issue("camera-refused", "the camera", "this page may not use it", "allow it"));
  const { camera } = on();
  const open = vi.fn<Camera["open"]>().mockResolvedValueOnce(no).mockImplementation(camera.open);
  shown({ ...camera, open }, seeing(first.frames).sight);
  const alert = await screen.findByRole("alert");
  expect(alert.textContent).toContain("Allow it.");
  expect(alert.textContent).toContain("choose its file here, or paste its text");
  fireEvent.click(screen.getByRole("button", { name: "Try again" }));
  await waitFor(() => expect(onText).toHaveBeenCalledOnce());
});

test("a camera that is granted after the reader was closed is put out at once", async () => {
  const { camera, open } = on();
  let grant = () => {};
  const asked = new Promise<void>((resolve) => {
    grant = resolve;
  });
  const slow = { ...camera, open: () => asked.then(() => ok(open)) };
  shown(slow, seeing([]).sight).unmount();
  expect(open.close).not.toHaveBeenCalled();
  grant();
  await waitFor(() => expect(open.close).toHaveBeenCalled());
});

test("a reader that breaks is said, instead of a picture that never comes to an end", async () => {
  shown(on().camera, { read: () => Promise.reject(new Error("its file is missing")) });
  expect((await screen.findByRole("alert")).textContent).toContain("Its file is missing.");
});

test("with two cameras a person chooses", async () => {
  const { camera } = on();
  const open = vi.fn(camera.open);
  const list = async () => [
    { id: "a", name: "built in" },
    { id: "b", name: "on the arm" },
  ];
  shown({ open, list }, seeing([]).sight);
  fireEvent.change(await screen.findByLabelText("Camera"), { target: { value: "b" } });
  await waitFor(() => expect(open).toHaveBeenLastCalledWith("b"));
});
