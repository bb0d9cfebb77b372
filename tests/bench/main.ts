import { spawnSync } from "node:child_process";
import type { Bench, Measured } from "./measure.ts";

/**
 * `npm run -s bench`: how fast, on this machine, now, beside what a practitioner would use instead. A table on
 * standard error; the last line, alone on standard output, is all of it as JSON. Nothing here passes or fails.
 */
const benches: Readonly<Record<string, () => Promise<Bench>>> = {
  predict: async () => (await import("./predict.ts")).benchPredict,
  pages: async () => (await import("./pages.ts")).benchPages,
};

const ours: Measured[] = [];
for (const [name, load] of Object.entries(benches)) {
  console.error(`timing ${name} …`);
  const bench = await load();
  for (const measured of await bench()) {
    ours.push(measured);
    const { median_s, p95_s, runs } = measured;
    console.error(`  ${measured.name.padEnd(48)} ${inMs(median_s)} median ${inMs(p95_s)} p95   ${runs} runs`);
  }
}
console.log(JSON.stringify({ ours, peers: peers() }));

/** pandas and scipy on the same work; null where they are not installed. */
function peers(): Record<string, number> | null {
  console.error("timing pandas and scipy on the same work …");
  const script = new URL("./peers.py", import.meta.url).pathname;
  const { status, stdout, stderr } = spawnSync(process.env["PYTHON"] ?? "/usr/bin/python3", [script], {
    encoding: "utf8",
  });
  if (status !== 0) {
    console.error(`  not timed: ${stderr?.trim().split("\n").at(-1) ?? "no python3"}`);
    console.error("  they come with: apt-get install python3-pandas python3-scipy");
    return null;
  }
  const times: Record<string, number> = JSON.parse(stdout);
  for (const [name, value] of Object.entries(times)) {
    if (name.endsWith("_s")) console.error(`  ${name.padEnd(48)} ${inMs(value)} median`);
  }
  return times;
}

function inMs(value_s: number): string {
  return `${(value_s * 1000).toFixed(3).padStart(10)} ms`;
}
