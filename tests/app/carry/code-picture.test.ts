import { expect, test } from "vitest";
import { codeOf, codeSide, modulesAcross, QUIET_MODULES } from "../../../app/carry/code-picture.ts";
import { CODE_SIZES } from "../../../core/exchange/qr-frames.ts";

test("a full frame fits its code, and a short one is drawn no smaller", () => {
  for (const { qrVersion, frame_bytes } of Object.values(CODE_SIZES))
    for (const bytes of [1, frame_bytes])
      expect(codeOf(new Uint8Array(bytes), qrVersion).size + 2 * QUIET_MODULES).toBe(
        modulesAcross(qrVersion),
      );
});

test("one byte more than a frame may hold does not fit: the size is the standard's", () => {
  expect(() => codeOf(new Uint8Array(CODE_SIZES.coarse.frame_bytes + 1), 15)).toThrow();
  expect(() => codeOf(new Uint8Array(1274), 25)).toThrow();
});

test("a module is a whole number of the screen's pixels, as many as fit", () => {
  for (const ratio of [1, 1.5, 2, 2.625, 3])
    for (const modules of [modulesAcross(15), modulesAcross(25)]) {
      const { side_px, readable } = codeSide(360, modules, ratio);
      const each = (side_px * ratio) / modules;
      expect(each).toBeCloseTo(Math.round(each), 9);
      expect(readable).toBe(360 * ratio >= 3 * modules);
      if (readable) expect(side_px).toBeLessThanOrEqual(360);
    }
});

test("where three pixels a module do not fit, the code is drawn at three all the same, and that is said", () => {
  expect(codeSide(200, 125, 1)).toEqual({ side_px: 375, readable: false });
});
