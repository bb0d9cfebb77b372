import { readFileSync } from "node:fs";

/** A file of docs/ that is printed from the code, in whole or in marked blocks, so that it cannot drift. */
export type Page = { readonly path: string; readonly text: string };

export const rootUrl = new URL("../../", import.meta.url);

export const committed = (path: string): string => readFileSync(new URL(path, rootUrl), "utf8");

const opening = (block: string): string => `<!-- printed by npm run print: ${block} -->`;
const closing = (block: string): string => `<!-- end of ${block} -->`;

/** The page as committed, with what stands between a block's marks printed anew. */
export const withBlocks = (path: string, blocks: Readonly<Record<string, string>>): Page => {
  const text = Object.entries(blocks).reduce((page, [block, body]) => {
    const [from, to] = [page.indexOf(opening(block)), page.indexOf(closing(block))];
    if (from < 0 || to < from) throw new Error(`${path} has no block "${block}"`);
    return `${page.slice(0, from)}${opening(block)}\n\n${body.trim()}\n\n${page.slice(to)}`;
  }, committed(path));
  return { path, text };
};

const cell = (text: string): string => text.replaceAll("|", "\\|").replaceAll("\n", " ");

export const table = (head: readonly string[], rows: readonly (readonly string[])[]): string =>
  [head, head.map(() => "---"), ...rows].map((row) => `| ${row.map(cell).join(" | ")} |`).join("\n");

export const code = (text: string): string => `\`${text}\``;
