import { writeFileSync } from "node:fs";
import { rootUrl } from "./page.ts";
import { printedPages } from "./pages.ts";

/** `npm run print`: writes what docs/ prints from the code. */
for (const { path, text } of printedPages()) {
  writeFileSync(new URL(path, rootUrl), text);
  console.log(path);
}
