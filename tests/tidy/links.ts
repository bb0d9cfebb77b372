import { posix } from "node:path";
import { type Finding, isCode, parse, type Source } from "./source.ts";

/** Links of the documents, and the places that a comment sends its reader to: a document's heading, a file. */
export function linkFindings(house: readonly Source[], paths: readonly string[]): Finding[] {
  const known = new Set(paths.flatMap((path) => [path, ...foldersOf(path)]));
  const anchors = new Map(
    house.filter(({ path }) => path.endsWith(".md")).map((source) => [source.path, anchorsOf(source.text)]),
  );

  const fault = (target: string, anchor: string | undefined) => {
    if (!known.has(target.replace(/\/$/, ""))) return `${target} does not exist`;
    if (anchor && anchors.has(target) && !anchors.get(target)?.has(anchor))
      return `${target} has no heading #${anchor}`;
    return undefined;
  };
  return house.flatMap((source) =>
    (source.path.endsWith(".md")
      ? documentLinks(source)
      : isCode(source.path)
        ? commentLinks(source)
        : []
    ).flatMap(({ target, anchor, line }) => {
      const what = fault(target, anchor);
      return what === undefined ? [] : [{ path: source.path, line, what }];
    }),
  );
}

interface Link {
  target: string;
  anchor: string | undefined;
  line: number;
}

function documentLinks({ path, text }: Source): Link[] {
  const links: Link[] = [];
  let fenced = false;
  text.split("\n").forEach((content, index) => {
    if (content.startsWith("```")) fenced = !fenced;
    if (fenced) return;
    for (const match of content.matchAll(/\]\(([^)\s]+)\)|\b(?:src|href)="([^"]+)"/g)) {
      const to = match[1] ?? match[2] ?? "";
      if (/^[a-z]+:/.test(to)) continue;
      const [file = "", anchor] = to.split("#");
      const target = file === "" ? path : posix.join(posix.dirname(path), file);
      links.push({ target, anchor, line: index + 1 });
    }
    // A link's address was read above.
    links.push(...places(content.replace(/\]\([^)]*\)/g, "]"), index + 1));
  });
  return unique(links);
}

/** A link whose words are its own address is one link. */
function unique(links: readonly Link[]): Link[] {
  return [...new Map(links.map((link) => [`${link.line} ${link.target}#${link.anchor}`, link])).values()];
}

function commentLinks(source: Source): Link[] {
  return parse(source).comments.flatMap(({ text, line }) =>
    text.split("\n").flatMap((content, index) => places(content, line + index)),
  );
}

/** A path as people write it in a sentence. */
function places(text: string, line: number): Link[] {
  return [
    ...text.matchAll(
      /(?<![\w/.-])((?:docs|core|app|tests)\/[\w./-]*\.(?:md|tsx?|json|csv|html|css))(?:#([\w-]+))?/g,
    ),
  ].map((match) => ({ target: match[1] ?? "", anchor: match[2], line }));
}

/** The way the usual forges make an anchor of a heading. */
function anchorsOf(text: string): Set<string> {
  const headings = [...text.matchAll(/^#{1,6}\s+(.+?)\s*#*$/gm)].map((match) => match[1] ?? "");
  const slugs = headings.map((heading) =>
    heading
      .toLowerCase()
      .replace(/[`*]/g, "")
      .replace(/[^\p{L}\p{N}\s_-]/gu, "")
      .trim()
      .replace(/\s/g, "-"),
  );
  return new Set([
    ...slugs,
    ...[...text.matchAll(/<a (?:id|name)="([^"]+)"/g)].map((match) => match[1] ?? ""),
  ]);
}

function foldersOf(path: string): string[] {
  const parts = path.split("/");
  return parts.slice(1).map((_, index) => parts.slice(0, index + 1).join("/"));
}
