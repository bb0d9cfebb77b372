import { buildSite, siteFolder, siteIsStale } from "../../app/serve/build-site.ts";
import { standScriptLimit_bytes } from "./budgets.ts";
import { weighScripts } from "./weigh-scripts.ts";

/**
 * `npm run -s size`: the script that the stand face loads, in gzip bytes, alone on standard output; every chunk
 * on standard error. Fails above the budget.
 */
if (siteIsStale(siteFolder)) await buildSite(siteFolder);
const { stand_bytes, chunks } = weighScripts(siteFolder);

for (const { name, bytes, atOnce } of chunks) {
  console.error(`${String(bytes).padStart(8)}  ${atOnce ? "at once" : "lazy   "}  ${name}`);
}
console.log(stand_bytes);

if (stand_bytes > standScriptLimit_bytes) {
  console.error(`the stand's script is over its budget of ${standScriptLimit_bytes} bytes`);
  process.exitCode = 1;
}
