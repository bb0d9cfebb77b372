import { type Bitmap2D, correction, generate, mode } from "lean-qr";

/** Quiet zone that the standard asks for, in modules. @source ISO/IEC 18004, 9.1 (remembered) */
export const QUIET_MODULES = 4;
/** Under this a camera's own grid swallows the modules. */
export const LEAST_PX = 3;

/** Modules a side, quiet zone included. */
export const modulesAcross = (qrVersion: number): number => 17 + 4 * qrVersion + 2 * QUIET_MODULES;

/** A frame as a code of just this version: all codes of a run are then of one size, and nothing jumps. */
export const codeOf = (frame: Uint8Array, qrVersion: number): Bitmap2D =>
  generate(mode.bytes(frame), {
    minVersion: qrVersion,
    maxVersion: qrVersion,
    minCorrectionLevel: correction.L,
    maxCorrectionLevel: correction.L,
  });

/** One dot a module, black on white whatever the theme; the page enlarges it by whole pixels. */
export const drawCode = (code: Bitmap2D, canvas: HTMLCanvasElement): void =>
  code.toCanvas(canvas, { on: [0, 0, 0, 255], off: [255, 255, 255, 255], pad: QUIET_MODULES });

/**
 * Side of the code in CSS pixels, the largest whole number of device pixels a module that fits, and
 * whether that is enough to be read.
 */
export const codeSide = (
  room_px: number,
  modules: number,
  deviceRatio: number,
): { readonly side_px: number; readonly readable: boolean } => {
  const each = Math.floor((room_px * deviceRatio) / modules);
  return { side_px: (Math.max(each, LEAST_PX) * modules) / deviceRatio, readable: each >= LEAST_PX };
};
