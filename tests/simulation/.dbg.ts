import { runSimulation } from "./simulate.ts";

const [seed, runs] = process.argv.slice(2).map(Number);
const t = performance.now();
const s = await runSimulation(seed!, runs!);
console.log(
  JSON.stringify({ ...s, violations: s.violations.length }),
  `${Math.round(performance.now() - t)} ms`,
);
const kinds = new Map<string, number>();
for (const v of s.violations) {
  const k = v
    .replace(/seed \d+: /, "")
    .replace(/\d+/g, "#")
    .slice(0, 110);
  kinds.set(k, (kinds.get(k) ?? 0) + 1);
}
for (const [k, n] of kinds) console.log(n, k);
console.log(s.violations.slice(0, 6).join("\n").slice(0, 1500));
const seen = new Set<string>();
for (const v of s.violations) {
  const k = v.replace(/seed \d+: /, "").replace(/\d+/g, "#");
  if (!seen.has(k)) console.log(v.slice(0, 200));
  seen.add(k);
}
