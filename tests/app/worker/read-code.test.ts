import { expect, test } from "vitest";
import { codeOf, QUIET_MODULES } from "../../../app/carry/code-picture.ts";
import type { Picture } from "../../../app/ports.ts";
import { readCode } from "../../../app/worker/read-code.ts";
import { CODE_SIZES } from "../../../core/exchange/qr-frames.ts";

/** A grey picture with the code in its middle, so many pixels a module, turned by an angle. */
const pictureOf = (bytes: Uint8Array, qrVersion: number, each_px: number, angle_rad = 0): Picture => {
  const code = codeOf(bytes, qrVersion);
  const width = 960;
  const height = 720;
  const data = new Uint8ClampedArray(width * height * 4).fill(120);
  const edge = code.size / 2 + QUIET_MODULES;
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const [right, down] = [x - width / 2, y - height / 2];
      const across = (right * Math.cos(angle_rad) + down * Math.sin(angle_rad)) / each_px;
      const along = (down * Math.cos(angle_rad) - right * Math.sin(angle_rad)) / each_px;
      if (Math.abs(across) > edge || Math.abs(along) > edge) continue;
      const dark = code.get(Math.floor(across + code.size / 2), Math.floor(along + code.size / 2));
      data.fill(dark ? 30 : 220, (y * width + x) * 4, (y * width + x) * 4 + 3);
    }
  return { width, height, data };
};

/** Every byte there is, so that no text decoding on the way goes unnoticed. */
const every = (length: number): Uint8Array => Uint8Array.from({ length }, (_, i) => (i * 7) % 256);

test("every byte of a frame comes through a code of either size, also turned", () => {
  for (const { qrVersion, frame_bytes } of Object.values(CODE_SIZES)) {
    const bytes = every(frame_bytes);
    expect(readCode(pictureOf(bytes, qrVersion, 5))).toEqual(bytes);
    expect(readCode(pictureOf(bytes, qrVersion, 4.3, 0.12))).toEqual(bytes);
  }
});

test("a picture without a code gives nothing", () => {
  const empty = pictureOf(every(10), 15, 5);
  empty.data.fill(90);
  expect(readCode(empty)).toBeUndefined();
  empty.data.set(every(4 * 960 * 300));
  expect(readCode(empty)).toBeUndefined();
});
