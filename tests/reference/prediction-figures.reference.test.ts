import { expect, test } from "vitest";
import { modelFigures } from "./model-figures.ts";

/** Drawn anew and written by `npm run unit -- prediction-figures -u`; the change then shows in review. */
test.each(Object.entries(modelFigures()))("docs/figures/%s is what the model draws", async (name, text) => {
  await expect(text).toMatchFileSnapshot(`../../docs/figures/${name}`);
});
