import { type Finding, isCode, parse, type Source } from "./source.ts";

/** Past these a file or a function is likely to have a second duty (docs/DEVELOPERS: conventions). */
export const fileLimit = 300;
export const functionLimit = 60;

/**
 * What was longer when the limit came, at the length it had. An entry may only shrink: it must equal today's
 * length, and goes when the limit is met.
 */
export type Ratchet = Readonly<Record<string, number>>;

interface Measured {
  key: string;
  path: string;
  line: number;
  lines: number;
}

export function lengthFindings(house: readonly Source[], ratchet: Ratchet): Finding[] {
  const code = house.filter(({ path }) => isCode(path));
  const files = code.map(
    ({ path, text }): Measured => ({ key: path, path, line: 1, lines: text.trimEnd().split("\n").length }),
  );
  const functions = code
    .filter(({ path }) => !/\.test\.tsx?$/.test(path))
    .flatMap((source) =>
      parse(source).functions.map(
        ({ name, line, lines }): Measured => ({
          key: `${source.path} ${name}`,
          path: source.path,
          line,
          lines,
        }),
      ),
    );
  return [
    ...files.flatMap((measured) => fault(measured, fileLimit, ratchet)),
    ...functions.flatMap((measured) => fault(measured, functionLimit, ratchet)),
    ...stale([...files, ...functions], ratchet),
  ];
}

function fault({ key, path, line, lines }: Measured, limit: number, ratchet: Ratchet): Finding[] {
  const allowed = Math.max(limit, ratchet[key] ?? 0);
  if (lines <= allowed) return [];
  return [{ path, line, what: `${key} has ${lines} lines, over ${allowed}: look for a second duty` }];
}

function stale(measured: readonly Measured[], ratchet: Ratchet): Finding[] {
  const longest = new Map<string, number>();
  for (const { key, lines } of measured) longest.set(key, Math.max(lines, longest.get(key) ?? 0));
  return Object.entries(ratchet)
    .filter(([key, allowed]) => (longest.get(key) ?? 0) < allowed)
    .map(([key, allowed]) => ({
      path: "tests/tidy/ratchet.ts",
      line: 1,
      what: `${key} has ${longest.get(key) ?? 0} lines now: lower its ${allowed}, or take it out at the limit`,
    }));
}
