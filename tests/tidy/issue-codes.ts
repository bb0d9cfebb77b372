import { type Finding, isCode, type Source } from "./source.ts";
import { isNamed, keyName, lineAt, type Node, type Tree, treeOf } from "./syntax-tree.ts";
import { type Text, textsOf } from "./texts-of.ts";

interface Table {
  /** Where the ids are handed over as codes, and as which expression. */
  path: string;
  expression: string;
  /** The files that hold the rows, and a key by which a row is told from other objects with an id. */
  rows: RegExp;
  beside: string;
}

/** Codes that are the ids of a table's rows. */
// biome-ignore format: it reads as the table it is
const tables: readonly Table[] = [
  { path: "core/sequence/missing.ts", expression: "key", rows: /^core\/sequence\/facts\.ts$/, beside: "words" },
  { path: "core/sequence/missing.ts", expression: "rule.id", rows: /^core\/sequence\/rules\.ts$/, beside: "words" },
  { path: "core/procedure/lint/lint-procedure.ts", expression: "id", rows: /^core\/procedure\/lint\//, beside: "severity" },
];

const issueKeys: readonly (string | undefined)[] = ["code", "where", "detail", "remedy"];

type Emitted = { readonly code: string; readonly path: string; readonly line: number };

/**
 * Every code that an issue of the product can have, read from the source: from calls of `issue` and from objects
 * written out as issues. What cannot be read is a finding, so that no code can hide.
 */
export function emittedCodes(house: readonly Source[]): { codes: Emitted[]; unread: Finding[] } {
  const trees = house
    .filter(({ path }) => isCode(path) && /^(core|app)\//.test(path) && path !== "core/result.ts")
    .map(treeOf);
  const codes: Emitted[] = [];
  const unread: Finding[] = [];
  for (const tree of trees) {
    const at = (node: Node) => ({ path: tree.path, line: lineAt(tree, node) });
    for (const node of tree.nodes) {
      if (isRenamed(node))
        unread.push({ ...at(node), what: "`issue` under another name: its codes cannot be found" });
      const code = codeOf(node);
      if (code === undefined) continue;
      const written = tree.text.slice(code.start, code.end);
      const table = tables.find(({ path, expression }) => path === tree.path && expression === written);
      const texts = table ? idsOf(table, trees) : textsOf(tree, code);
      if (texts.includes(undefined) || texts.length === 0)
        unread.push({
          ...at(node),
          what: `the code ${written} cannot be read from the source: write it out`,
        });
      codes.push(...texts.flatMap((text) => (text === undefined ? [] : [{ ...at(node), code: text }])));
    }
  }
  return { codes, unread };
}

/** @param page  docs/formats.md: codes stand first in the rows under its heading "Issue codes" */
export function issueCodeFindings(house: readonly Source[], page: Source): Finding[] {
  const { codes, unread } = emittedCodes(house);
  const listed = listedCodes(page.text);
  const known = new Set(listed.map(({ code }) => code));
  const emitted = new Set(codes.map(({ code }) => code));
  return [
    ...unread,
    ...codes
      .filter(({ code }) => !known.has(code))
      .map(({ code, path, line }) => ({
        path,
        line,
        what: `${code} is not in ${page.path}: add it to tests/print/issue-codes.ts where no table has it, then npm run print`,
      })),
    ...listed
      .filter(({ code }) => !emitted.has(code))
      .map(({ code, line }) => ({
        path: page.path,
        line,
        what: `nothing gives the code ${code}: take it out`,
      })),
  ];
}

function listedCodes(page: string): { code: string; line: number }[] {
  let within = false;
  return page.split("\n").flatMap((content, index) => {
    if (content.startsWith("## ")) within = content === "## Issue codes";
    const code = within ? /^\| `([a-z0-9-]+)` \|/.exec(content)?.[1] : undefined;
    return code === undefined ? [] : [{ code, line: index + 1 }];
  });
}

/** The expression that gives an issue its code, where this node makes an issue. */
function codeOf(node: Node): Node | undefined {
  if (node.type === "CallExpression" && isNamed(node["callee"], "issue"))
    return (node["arguments"] as Node[])[0];
  if (node.type !== "ObjectExpression") return undefined;
  const parts = node["properties"] as Node[];
  const own = parts.filter(({ type }) => type !== "SpreadElement");
  const keys = own.map(keyName);
  const isWhole = keys.includes("detail") && keys.includes("remedy");
  if (!keys.every((key) => issueKeys.includes(key)) || !(isWhole || own.length < parts.length))
    return undefined;
  return own.find((part) => keyName(part) === "code")?.["value"] as Node | undefined;
}

const isRenamed = (node: Node): boolean =>
  node.type === "ImportSpecifier" && isNamed(node["imported"], "issue") && !isNamed(node["local"], "issue");

const idsOf = ({ rows, beside }: Table, trees: readonly Tree[]): Text[] =>
  trees
    .filter(({ path }) => rows.test(path))
    .flatMap((tree) =>
      tree.nodes.flatMap((node) => {
        const parts = node.type === "ObjectExpression" ? (node["properties"] as Node[]) : [];
        const id = parts.find((part) => keyName(part) === "id");
        return id && parts.some((part) => keyName(part) === beside) ? textsOf(tree, id["value"] as Node) : [];
      }),
    );
