import { closeSync, openSync, writeSync } from "node:fs";
import type { Page } from "playwright-core";

/** What a laptop's camera makes of a phone's screen, as a film that Chromium plays in a camera's place. */

const WIDTH_PX = 1280;
const HEIGHT_PX = 720;
/** Pictures a second. */
const RATE = 10;

/**
 * Takes each screen by an imaginary camera: held a little askew, not quite sharp, lit from one side,
 * noisy; and between two screens the picture that is half the one and half the other.
 * @param page  any blank page: its canvas does the work
 * @param screens  PNG, as the phone showed them
 */
export async function film(page: Page, screens: readonly Buffer[], path: string): Promise<void> {
  const file = openSync(path, "w");
  const grey = Buffer.alloc((WIDTH_PX * HEIGHT_PX) / 2, 128);
  const add = (luma: Buffer) => {
    writeSync(file, "FRAME\n");
    writeSync(file, luma);
    writeSync(file, grey);
  };
  writeSync(file, `YUV4MPEG2 W${WIDTH_PX} H${HEIGHT_PX} F${RATE}:1 Ip A1:1 C420mpeg2\n`);
  for (const [i, screen] of screens.entries()) {
    const next = screens[(i + 1) % screens.length] ?? screen;
    add(await seen(page, screen, screen));
    add(await seen(page, screen, next));
  }
  closeSync(file);
}

/** Brightness of one picture: the upper half shows one screen, the lower the other. */
async function seen(page: Page, upper: Buffer, lower: Buffer): Promise<Buffer> {
  const luma = await page.evaluate(
    async ({ sources, width, height }) => {
      const canvas = new OffscreenCanvas(width, height);
      const pen = canvas.getContext("2d", { willReadFrequently: true })!;
      const ground = pen.createLinearGradient(0, 0, width, height);
      ground.addColorStop(0, "#777");
      ground.addColorStop(1, "#222");
      pen.fillStyle = ground;
      pen.fillRect(0, 0, width, height);
      for (const [half, source] of sources.entries()) {
        const image = new Image();
        image.src = `data:image/png;base64,${source}`;
        await image.decode();
        pen.save();
        pen.beginPath();
        pen.rect(0, (half * height) / 2, width, height / 2);
        pen.clip();
        pen.translate(width / 2, height / 2 + 60);
        pen.rotate(0.06);
        pen.filter = "blur(0.7px) brightness(0.85)";
        // The phone's 360 px are 430 of the camera's, so a module of the coarse code is 4.8.
        const scale = 430 / image.width;
        pen.drawImage(
          image,
          (-image.width * scale) / 2,
          (-image.height * scale) / 2,
          image.width * scale,
          image.height * scale,
        );
        pen.restore();
      }
      const { data } = pen.getImageData(0, 0, width, height);
      const bytes = new Uint8Array(width * height);
      let state = 7;
      for (let i = 0; i < bytes.length; i++) {
        state = (state * 48_271) % 2_147_483_647;
        bytes[i] = Math.max(16, Math.min(235, (data[4 * i + 1] ?? 0) + (state % 17) - 8));
      }
      const blob = new Blob([bytes]);
      return new Promise<string>((resolve) => {
        const reader = new FileReader();
        reader.onload = () => resolve(String(reader.result).split(",")[1] ?? "");
        reader.readAsDataURL(blob);
      });
    },
    { sources: [upper, lower].map((png) => png.toString("base64")), width: WIDTH_PX, height: HEIGHT_PX },
  );
  return Buffer.from(luma, "base64");
}
