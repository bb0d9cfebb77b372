// @vitest-environment happy-dom
import { cleanup, render, screen, waitFor } from "@testing-library/preact";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { codeOf, QUIET_MODULES } from "../../../app/carry/code-picture.ts";
import { ReadPlan } from "../../../app/carry/read-plan.tsx";
import { ShowPlan } from "../../../app/carry/show-plan.tsx";
import type { Camera, CodeSight, OpenCamera } from "../../../app/ports.ts";
import { readCode } from "../../../app/worker/read-code.ts";
import { CODE_SIZES } from "../../../core/exchange/qr-frames.ts";
import { matrixText, readMatrixText } from "../../../core/plan/matrix-file.ts";
import { ok } from "../../../core/result.ts";

const plan = {
  water_kg: [0.45, 0.6, 0.75],
  setPressure_Pa: [250_000, 300_000],
  replicates: 4,
  crews: ["P", "Q", "R", "S"],
  seed: 65_535,
};
const text = matrixText("heron", plan);

beforeEach(() => {
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

const camera: Camera = {
  open: async () =>
    ok<OpenCamera>({ stream: new MediaStream(), ended: new Promise(() => {}), close: vi.fn() }),
  list: async () => [],
};
const seeing = (...codes: readonly string[]): CodeSight => {
  const left = codes.map((code) => new TextEncoder().encode(code));
  return { read: async () => left.shift() ?? new Promise((resolve) => setTimeout(resolve, 5)) };
};

/** As a camera with a steady hand has it: four pixels a module. */
const pictureOf = (bytes: Uint8Array) => {
  const code = codeOf(bytes, CODE_SIZES.coarse.qrVersion);
  const side = 4 * (code.size + 2 * QUIET_MODULES);
  const data = new Uint8ClampedArray(4 * side * side).fill(255);
  for (let y = 0; y < side; y++)
    for (let x = 0; x < side; x++)
      if (code.get(Math.floor(x / 4) - QUIET_MODULES, Math.floor(y / 4) - QUIET_MODULES))
        data.fill(0, 4 * (y * side + x), 4 * (y * side + x) + 3);
  return { width: side, height: side, data };
};

test("a term's plan fits one coarse code, and comes out of its picture byte for byte", () => {
  const bytes = new TextEncoder().encode(text);
  expect(bytes.length).toBeLessThanOrEqual(CODE_SIZES.coarse.frame_bytes);
  const read = readCode(pictureOf(bytes));
  expect(new TextDecoder().decode(read)).toBe(text);
});

test("a plan that is seen is kept once, and another code before it is said to be none", async () => {
  const keepPlan = vi.fn(async (seen: string) => readMatrixText(seen));
  render(<ReadPlan {...{ camera, keepPlan }} sight={seeing("HELLO", "HELLO", text, text)} home="#/" />);
  await screen.findByRole("heading", { name: "The plan is on this phone" });
  expect(screen.getByText("24 shots for the stand “heron”.")).toBeTruthy();
  await waitFor(() => expect(keepPlan.mock.calls.map(([seen]) => seen)).toEqual(["HELLO", text]));
});

test("a code that is no plan says so, and the camera looks on", async () => {
  const keepPlan = async (seen: string) => readMatrixText(seen);
  render(<ReadPlan {...{ camera, keepPlan }} sight={seeing("HELLO")} home="#/" />);
  expect((await screen.findByRole("alert")).textContent).toContain("It is not JSON.");
  expect(screen.getByLabelText("What the camera sees")).toBeTruthy();
});

test("a plan that is too long for a code says which way is left", () => {
  const long = matrixText("heron", {
    ...plan,
    water_kg: Array.from({ length: 300 }, (_, i) => 0.3 + i / 1000),
  });
  render(<ShowPlan text={long} onClose={() => {}} />);
  expect(screen.getByRole("alert").textContent).toContain("Save it for the stand");
});
