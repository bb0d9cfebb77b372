import { expect, test } from "vitest";
import { finding } from "../../../core/review/finding.ts";
import { trendsOver } from "../../../core/review/trends.ts";

const run = (code: string, ...findings: ReturnType<typeof finding>[]) => ({ code, findings });
const skip = finding("skipped", "amber", [4], "skipped: “Soap the stopper's whole side.”");
const quick = (took: string) => finding("hurried", "red", [9], `A answered, round 1, in ${took} s`);

test("a skip in more than one of five runs is a habit; a lone one is not", () => {
  const runs = [run("H-1", skip), run("H-2"), run("H-3", skip), run("H-4"), run("H-5")];
  expect(trendsOver(runs)).toEqual([{ words: `${skip.words}, in 2 of 5 runs`, runs: ["H-1", "H-3"] }]);
  expect(trendsOver([run("H-1", skip), run("H-2"), run("H-3"), run("H-4"), run("H-5")])).toEqual([]);
});

test("the same act hurried three runs running is drift, whatever the seconds; with a break it is not", () => {
  const running = [run("H-1"), run("H-2", quick("0.8")), run("H-3", quick("0.7")), run("H-4", quick("0.9"))];
  expect(trendsOver(running).map(({ runs }) => runs)).toEqual([["H-2", "H-3", "H-4"]]);
  const broken = [run("H-1", quick("0.8")), run("H-2", quick("0.8")), run("H-3"), run("H-4", quick("0.9"))];
  expect(trendsOver(broken)).toEqual([]);
});
