import { parseSync, Visitor } from "vite";

/** A file of the house as the rules see it. */
export interface Source {
  /** From the top of the house, with slashes. */
  path: string;
  text: string;
}

/** Something against the house's style, where, and what to do instead. */
export interface Finding {
  path: string;
  line: number;
  what: string;
}

export interface Import {
  /** As written: "./entry.ts", "xstate", "node:fs". */
  from: string;
  line: number;
  /** Gone at run time: `import type`, or every name of it marked `type`. */
  typeOnly: boolean;
}

export interface Parsed {
  imports: Import[];
  /** Dotted callees and constructions, as written: "Date.now", "new Date", "db.put". */
  calls: { name: string; line: number }[];
  /** Every name that is read, for globals that are not called. */
  names: { name: string; line: number }[];
  functions: { name: string; line: number; lines: number }[];
  defaultExportLine: number | undefined;
  /** Lines of this file that are comments, by where each comment starts. */
  comments: { line: number; text: string }[];
}

const parsedByText = new WeakMap<Source, Parsed>();

export const isCode = (path: string): boolean => /\.tsx?$/.test(path);

/** Parsed once, however many rules ask. */
export function parse(source: Source): Parsed {
  const known = parsedByText.get(source);
  if (known) return known;
  const parsed = parseAfresh(source);
  parsedByText.set(source, parsed);
  return parsed;
}

/** What the rules read of a syntax node; the parser's own types name every kind of node there is. */
interface Node {
  type: string;
  start: number;
  end: number;
  name?: string;
  value?: unknown;
  id?: Node | null;
  key?: Node;
  init?: Node | null;
  callee?: Node;
  object?: Node;
  property?: Node;
  computed?: boolean;
  source?: Node | null;
  importKind?: string;
  exportKind?: string;
  specifiers?: (Node & { importKind?: string })[];
  arguments?: Node[];
}

function parseAfresh({ path, text }: Source): Parsed {
  const result = parseSync(path, text);
  const line = lineFinder(text);
  const parsed: Parsed = {
    imports: [],
    calls: [],
    names: [],
    functions: [],
    defaultExportLine: undefined,
    comments: [],
  };
  const named = new Map<Node, string>();

  const addImport = (from: Node | null | undefined, at: Node, typeOnly: boolean) => {
    if (typeof from?.value === "string")
      parsed.imports.push({ from: from.value, line: line(at.start), typeOnly });
  };
  const addFunction = (node: Node) => {
    const name = node.id?.name ?? named.get(node) ?? "(anonymous)";
    parsed.functions.push({ name, line: line(node.start), lines: line(node.end) - line(node.start) + 1 });
  };
  const nameValue = (value: Node | null | undefined, name: string | undefined) => {
    if (value && name) named.set(value, name);
  };

  // biome-ignore format: one line a kind of node reads as the table it is
  const visitor = {
    ImportDeclaration: (node: Node) => addImport(node.source, node, isTypeOnly(node)),
    ExportNamedDeclaration: (node: Node) => addImport(node.source, node, node.exportKind === "type"),
    ExportAllDeclaration: (node: Node) => addImport(node.source, node, node.exportKind === "type"),
    ExportDefaultDeclaration: (node: Node) => { parsed.defaultExportLine = line(node.start); },
    ImportExpression: (node: Node) => addImport(node.source, node, false),
    TSImportType: (node: Node) => addImport(node.source, node, true),
    CallExpression: (node: Node) => parsed.calls.push({ name: dotted(node.callee), line: line(node.start) }),
    NewExpression: (node: Node) => {
      parsed.calls.push({ name: `new ${dotted(node.callee)}`, line: line(node.start) });
      // new URL("./reduce.worker.ts", import.meta.url) is how a worker is named.
      const [first, second] = node.arguments ?? [];
      const relative = node.callee?.name === "URL" && text.slice(second?.start, second?.end) === "import.meta.url";
      if (relative && isCode(String(first?.value))) addImport(first, node, false);
    },
    Identifier: (node: Node) => parsed.names.push({ name: node.name ?? "", line: line(node.start) }),
    VariableDeclarator: (node: Node) => nameValue(node.init, node.id?.name),
    Property: (node: Node) => nameValue(node.value as Node, node.key?.name),
    MethodDefinition: (node: Node) => nameValue(node.value as Node, node.key?.name),
    FunctionDeclaration: addFunction,
    FunctionExpression: addFunction,
    ArrowFunctionExpression: addFunction,
  };
  new Visitor(visitor as unknown as ConstructorParameters<typeof Visitor>[0]).visit(result.program);
  parsed.comments = result.comments.map(({ start, value }) => ({ line: line(start), text: value }));
  return parsed;
}

function isTypeOnly({ importKind, specifiers = [] }: Node): boolean {
  return (
    importKind === "type" || (specifiers.length > 0 && specifiers.every((one) => one.importKind === "type"))
  );
}

function dotted(node: Node | undefined): string {
  if (!node) return "";
  if (node.type === "Identifier") return node.name ?? "";
  if (node.type === "ThisExpression") return "this";
  if (node.type === "MemberExpression")
    return `${dotted(node.object)}.${node.computed ? "[]" : dotted(node.property)}`;
  if (node.type === "CallExpression") return `${dotted(node.callee)}()`;
  return "";
}

/** Offsets to line numbers, from 1. */
function lineFinder(text: string): (offset: number) => number {
  const starts = [0];
  for (let at = text.indexOf("\n"); at !== -1; at = text.indexOf("\n", at + 1)) starts.push(at + 1);
  return (offset) => {
    let low = 0;
    let high = starts.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if ((starts[middle] ?? 0) <= offset) low = middle;
      else high = middle - 1;
    }
    return low + 1;
  };
}
