import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { openBrowser } from "./open-browser.ts";

/** `npm run icons`: draws the PNG icons from icon.svg, which is the only one drawn by hand. */
const folder = new URL("../../app/public/icons/", import.meta.url).pathname;
const drawing = readFileSync(join(folder, "icon.svg"), "utf8");

/** Launchers cut a maskable icon to their own shape: the ground runs to the edge, the drawing stays in the inner 80 %. */
const maskable = drawing
  .replace(' rx="104"', "")
  .replace('<g id="drawing"', '<g id="drawing" transform="scale(.9)"');

/** iOS rounds the corners itself and paints transparency black. */
const square = drawing.replace(' rx="104"', "");

const pictures = [
  { name: "icon-192.png", svg: drawing, size: 192 },
  { name: "icon-512.png", svg: drawing, size: 512 },
  { name: "maskable-192.png", svg: maskable, size: 192 },
  { name: "maskable-512.png", svg: maskable, size: 512 },
  { name: "icon-180.png", svg: square, size: 180 },
];

const browser = await openBrowser();
for (const { name, svg, size } of pictures) {
  const page = await browser.newPage({ viewport: { width: size, height: size } });
  await page.setContent(`<style>body{margin:0}svg{display:block;width:100vw;height:100vh}</style>${svg}`);
  writeFileSync(join(folder, name), await page.screenshot({ omitBackground: true }));
  await page.close();
}
await browser.close();
