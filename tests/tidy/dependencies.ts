import { type Finding, isCode, parse, type Source } from "./source.ts";

/** Tools that run by their command or that another tool loads by name; everything else has to be imported. */
const runByName = new Set([
  "@biomejs/biome",
  "@types/node",
  "@vitest/coverage-v8",
  "happy-dom",
  "tsx",
  "typescript",
]);

/** A package that nothing imports is downloaded, audited and updated for nothing. */
export function deadDependencyFindings(house: readonly Source[]): Finding[] {
  const manifest = house.find(({ path }) => path === "package.json");
  if (!manifest) return [];
  const { dependencies = {}, devDependencies = {} } = JSON.parse(manifest.text);
  const imported = house
    .filter(({ path }) => isCode(path))
    .flatMap((source) => parse(source).imports.map(({ from }) => from));
  return Object.keys({ ...dependencies, ...devDependencies })
    .filter(
      (name) =>
        !runByName.has(name) && !imported.some((from) => from === name || from.startsWith(`${name}/`)),
    )
    .map((name) => ({ path: "package.json", line: 1, what: `nothing imports ${name}: npm rm it` }));
}
