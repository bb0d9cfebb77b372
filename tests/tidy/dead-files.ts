import { resolveImport } from "./imports.ts";
import { type Finding, isCode, parse, type Source } from "./source.ts";

/**
 * A file that nothing starts and nothing imports. What starts by itself is named where it is started: a script
 * of package.json, a page, a tool's configuration, a test.
 */
export function deadFileFindings(house: readonly Source[]): Finding[] {
  const code = new Map(house.filter(({ path }) => isCode(path)).map((source) => [source.path, source]));
  const reached = new Set<string>();
  const walk = (path: string) => {
    const source = code.get(path);
    if (!source || reached.has(path)) return;
    reached.add(path);
    for (const { from } of parse(source).imports) if (from.startsWith(".")) walk(resolveImport(path, from));
  };
  for (const path of code.keys()) if (/\.test\.tsx?$/.test(path)) walk(path);
  for (const path of named(house, [...code.keys()])) walk(path);
  return [...code.keys()]
    .filter((path) => !reached.has(path))
    .map((path) => ({ path, line: 1, what: "nothing starts it and nothing imports it: take it away" }));
}

/** Code files whose path stands in a file that starts things, from the top of the house or from its own folder. */
function named(house: readonly Source[], paths: readonly string[]): string[] {
  const starters = house.filter(({ path }) => /(^package\.json|\.html|\.config\.ts)$/.test(path));
  return starters.flatMap(({ path, text }) => {
    const folder = path.includes("/") ? path.slice(0, path.lastIndexOf("/") + 1) : "";
    const fromTop = paths.filter((candidate) => text.includes(candidate));
    const fromFolder = [...text.matchAll(/["'](?:\.\/)?([\w./-]+\.tsx?)["']/g)].map(
      (match) => folder + match[1],
    );
    return [path, ...fromTop, ...fromFolder];
  });
}
