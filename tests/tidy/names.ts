import { type Finding, isCode, parse, type Source } from "./source.ts";

/** Names that say nothing of what is inside. */
const emptyNames = /(^|[-/.])(utils?|helpers?|managers?|engines?|common|misc|stuff|shared)([-/.]|$)/;
const kebab = /^[a-z0-9]+(-[a-z0-9]+)*(\.[a-z0-9]+(-[a-z0-9]+)*)*$/;

/** What a tool looks for under a name of its own. */
const toolNames = new Set(["README.md", "DEVELOPERS.md", "LICENSE", "ARCHITECTURE.md"]);
const configs = /(^|\/)(vite|vitest)\.config\.ts$/;

export function nameFindings(paths: readonly string[]): Finding[] {
  return paths.flatMap((path) => {
    const file = path.split("/").at(-1) ?? "";
    const faults: string[] = [];
    if (emptyNames.test(path)) faults.push("says nothing of what is inside: name the thing");
    if (!file.startsWith(".") && !toolNames.has(file) && !kebab.test(file))
      faults.push("is not in kebab-case");
    if (/^index\.tsx?$/.test(file)) faults.push("is a barrel or hides its name: import the file itself");
    if (/\d\.tsx?$/.test(file) && /[a-z]2\.tsx?$/.test(file))
      faults.push("a second of the same name: say what differs");
    return faults.map((fault) => ({ path, line: 1, what: `the name ${fault}` }));
  });
}

/** A default export is called something else in every file that imports it. */
export function defaultExportFindings(house: readonly Source[]): Finding[] {
  return house
    .filter(({ path }) => isCode(path) && !configs.test(path))
    .flatMap((source) => {
      const line = parse(source).defaultExportLine;
      return line === undefined
        ? []
        : [{ path: source.path, line, what: "default export: give it its name" }];
    });
}
