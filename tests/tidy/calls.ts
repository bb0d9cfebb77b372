import { type Finding, isCode, parse, type Source } from "./source.ts";

interface Ban {
  /** Where it holds. */
  within: RegExp;
  /** The call as written, or for `name` a bare name. */
  call?: RegExp;
  name?: RegExp;
  instead: string;
}

/** What the compiler lets through and the house does not; core/tsconfig.json keeps all other globals out of core. */
const bans: readonly Ban[] = [
  {
    within: /^core\//,
    call: /^(Date\.now|new Date|Date)$/,
    instead: "core has no clock: take the time as an argument",
  },
  {
    within: /^core\//,
    call: /^Math\.random$/,
    instead: "core has no chance: take a seeded source as an argument",
  },
  { within: /^core\//, name: /^globalThis$/, instead: "core touches no world: hand it in" },
  {
    within: /^app\/storage\//,
    call: /\.put$/,
    instead: "an entry is never changed: `add` in a strict transaction of its own",
  },
  {
    within: /^app\/storage\//,
    call: /(^|\.)db\.(add|put|delete|clear)$/,
    instead: "idb's shortcuts take no durability: open a strict transaction",
  },
  {
    within: /^app\/(?!serve\/|cli\/|collector\/)/,
    call: /^console\./,
    instead: "a crew sees no console: return an issue, or show it",
  },
  {
    within: /^(app|core)\//,
    call: /^(alert|confirm|prompt)$/,
    instead: "it blocks the page and its clock: show it on the page",
  },
  { within: /^(app|core)\//, call: /^eval$/, instead: "the page's policy refuses it" },
  { within: /^tests\//, call: /^(test|it|describe)\.(only|skip|todo)$/, instead: "every test runs" },
];

export function callFindings(house: readonly Source[]): Finding[] {
  return house
    .filter(({ path }) => isCode(path))
    .flatMap((source) => {
      const { calls, names } = parse(source);
      return bans
        .filter(({ within }) => within.test(source.path))
        .flatMap(({ call, name, instead }) => [
          ...calls.filter((one) => call?.test(one.name)).map((one) => ({ ...one, instead })),
          ...names.filter((one) => name?.test(one.name)).map((one) => ({ ...one, instead })),
        ])
        .map(({ name, line, instead }) => ({ path: source.path, line, what: `${name}: ${instead}` }));
    });
}
