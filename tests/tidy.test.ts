import { expect, test } from "vitest";
import { callFindings } from "./tidy/calls.ts";
import { deadFileFindings } from "./tidy/dead-files.ts";
import { deadDependencyFindings } from "./tidy/dependencies.ts";
import { folderFindings } from "./tidy/folders.ts";
import { housePaths, readHouse } from "./tidy/house.ts";
import { circleFindings, importFindings } from "./tidy/imports.ts";
import { issueCodeFindings } from "./tidy/issue-codes.ts";
import { lengthFindings } from "./tidy/length.ts";
import { linkFindings } from "./tidy/links.ts";
import { defaultExportFindings, nameFindings } from "./tidy/names.ts";
import { ratchet } from "./tidy/ratchet.ts";
import type { Finding } from "./tidy/source.ts";
import { wordFindings } from "./tidy/words.ts";

/** The house style as a test; each rule is itself tested in tests/tidy/rules.test.ts. */
const paths = housePaths();
const house = readHouse();
const formats = house.find(({ path }) => path === "docs/formats.md") ?? { path: "docs/formats.md", text: "" };

const inWords = (findings: readonly Finding[]) =>
  findings.map(({ path, line, what }) => `${path}:${line} ${what}`);

test.each<[string, () => Finding[]]>([
  ["each folder imports only what its contract allows", () => importFindings(house)],
  ["no circle of imports", () => circleFindings(house)],
  ["no banned call", () => callFindings(house)],
  ["no banned word", () => wordFindings(house)],
  ["names say what is inside", () => nameFindings(paths)],
  ["named exports only", () => defaultExportFindings(house)],
  ["no dead file", () => deadFileFindings(house)],
  ["no dead dependency", () => deadDependencyFindings(house)],
  ["no dead link", () => linkFindings(house, paths)],
  [
    "docs/formats.md lists every issue code that can be given, and no other",
    () => issueCodeFindings(house, formats),
  ],
  ["files and functions keep to one duty", () => lengthFindings(house, ratchet)],
  ["the top level is fixed and tests mirror the sources", () => folderFindings(paths)],
])("%s", (_claim, findings) => {
  expect(inWords(findings())).toEqual([]);
});
