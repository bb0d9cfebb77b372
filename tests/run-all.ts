import { spawn } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { findBrowser } from "./browser/find-browser.ts";
import { closingLine, countVitest, type Tally, tallyOf } from "./tally.ts";

/**
 * `npm test`: every check there is, one after another, each to its end even when an earlier one failed. The
 * last line is the sum; a check that is not a test run counts as one.
 */
interface Phase {
  name: string;
  run(): Promise<Tally>;
}

const reports = mkdtempSync(join(tmpdir(), "fourfast-test-"));

const phases: Phase[] = [
  { name: "types", run: () => script("types") },
  { name: "lint", run: () => script("lint") },
  { name: "the terminal, built", run: () => script("prepare") },
  { name: "unit, property, model, reference", run: () => vitest("tests/vitest.config.ts", "--coverage") },
  { name: "build, nothing left out of the offline copy", run: () => script("build") },
  { name: "size", run: () => script("size") },
  { name: "browser", run: inBrowser },
];

const total: Tally = { passed: 0, failed: 0 };
const summary: string[] = [];
for (const { name, run } of phases) {
  console.log(`\n── ${name}`);
  const start_ms = performance.now();
  const tally = await run();
  total.passed += tally.passed;
  total.failed += tally.failed;
  const took = `${((performance.now() - start_ms) / 1000).toFixed(1)} s`;
  summary.push(
    `${tally.failed === 0 ? "ok    " : "FAILED"} ${took.padStart(8)}  ${name}: ${closingLine(tally)}`,
  );
  console.log(summary.at(-1));
}
rmSync(reports, { recursive: true, force: true });
console.log(`\n${summary.join("\n")}\n\n${closingLine(total)}`);
process.exitCode = total.failed === 0 ? 0 : 1;

async function inBrowser(): Promise<Tally> {
  try {
    console.log(`with ${await findBrowser()}`);
  } catch (error) {
    console.error((error as Error).message);
    return { passed: 0, failed: 1 };
  }
  return vitest("tests/e2e/vitest.config.ts");
}

async function script(name: string): Promise<Tally> {
  return tallyOf(await exitCode("npm", ["run", "--silent", name]));
}

async function vitest(config: string, ...more: string[]): Promise<Tally> {
  const report = join(reports, `${config.replaceAll("/", "-")}.json`);
  const code = await exitCode("npx", [
    ...["vitest", "run", "--config", config],
    ...["--reporter=default", "--reporter=json", `--outputFile.json=${report}`],
    ...more,
  ]);
  return countVitest(code, () => readFileSync(report, "utf8"));
}

function exitCode(command: string, args: string[]): Promise<number> {
  return new Promise((resolve) => {
    const child = spawn(command, args, { stdio: "inherit", cwd: new URL("..", import.meta.url).pathname });
    child.on("error", () => resolve(1));
    child.on("close", (code) => resolve(code ?? 1));
  });
}
