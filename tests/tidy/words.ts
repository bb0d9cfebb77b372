import type { Finding, Source } from "./source.ts";

/** Spelled in parts, so that this file does not find itself. */
const bans: readonly { word: RegExp; instead: string }[] = [
  {
    word: new RegExp(`\\b(${["TO", "DO"].join("")}|${["FIX", "ME"].join("")}|${["X", "XX"].join("")})\\b`),
    instead: "do it, or file an issue",
  },
  {
    word: new RegExp(`(^|[\\s"'\`(])/(${["work", "tmp", "home", "root", "Users"].join("|")})/`),
    instead: "a path of one machine",
  },
  {
    word: new RegExp(`${["registry", "npmjs"].join("\\.")}`),
    instead: "the lock and the sources name no download host",
  },
];

export function wordFindings(house: readonly Source[]): Finding[] {
  return house.flatMap(({ path, text }) =>
    text.split("\n").flatMap((content, index) =>
      bans
        .filter(({ word }) => word.test(content))
        .map(({ word, instead }) => ({
          path,
          line: index + 1,
          what: `${content.match(word)?.[0].trim()}: ${instead}`,
        })),
    ),
  );
}
