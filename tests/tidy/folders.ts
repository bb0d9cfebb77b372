import type { Finding } from "./source.ts";

/** The top of the house is fixed: whoever opens it sees five places and knows where to look. */
const top = new Set([
  "README.md",
  "DEVELOPERS.md",
  "LICENSE",
  "package.json",
  "package-lock.json",
  "tsconfig.json",
  "app",
  "core",
  "tests",
  "docs",
]);

/** Parts of tests/ that mirror no source folder, each with its own reason to exist. */
const mirrors = /^tests\/(core|app)\//;

export function folderFindings(paths: readonly string[]): Finding[] {
  const folders = new Set(paths.map((path) => path.slice(0, path.lastIndexOf("/"))));
  return paths.flatMap((path) => {
    const [first = ""] = path.split("/");
    if (!first.startsWith(".") && !top.has(first))
      return [{ path, line: 1, what: "the top level is fixed: put it into a folder" }];
    if (!mirrors.test(path) || !/\.test\.tsx?$/.test(path)) return [];
    const mirrored = path.slice("tests/".length, path.lastIndexOf("/"));
    return folders.has(mirrored) ? [] : [{ path, line: 1, what: `mirrors ${mirrored}, which is no folder` }];
  });
}
