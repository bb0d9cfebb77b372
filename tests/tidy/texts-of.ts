import { around, isNamed, keyName, type Node, type Tree } from "./syntax-tree.ts";

/** A text that an expression can be, or undefined where it cannot be told from the source. */
export type Text = string | undefined;

const isFunction = ({ type }: Node): boolean => /Function(Expression|Declaration)$/.test(type);
const inner = (node: Node): Node =>
  /^(TSAsExpression|TSSatisfiesExpression|TSNonNullExpression|ParenthesizedExpression)$/.test(node.type)
    ? inner(node["expression"] as Node)
    : node;

/**
 * Every text that an expression can be: written out, chosen between, kept in a constant, taken from a list or a table
 * of lists, or handed to a function, in which case its calls in the same file are read.
 */
export function textsOf(tree: Tree, expression: Node): readonly Text[] {
  const node = inner(expression);
  switch (node.type) {
    case "Literal":
      return [typeof node["value"] === "string" ? node["value"] : undefined];
    case "ConditionalExpression":
      return [...textsOf(tree, node["consequent"] as Node), ...textsOf(tree, node["alternate"] as Node)];
    case "LogicalExpression":
      return [...textsOf(tree, node["left"] as Node), ...textsOf(tree, node["right"] as Node)];
    case "Identifier":
      return textsOfName(tree, node);
    default:
      return [undefined];
  }
}

/** The innermost constant or parameter of this name counts. */
function textsOfName(tree: Tree, use: Node): readonly Text[] {
  const name = String(use["name"]);
  for (const scope of around(tree, use)) {
    if (isFunction(scope)) {
      const place = (scope["params"] as Node[]).findIndex((param) => isNamed(param, name));
      if (place >= 0) return textsHandedTo(tree, scope, place);
    }
    const body = scope["body"];
    if (!Array.isArray(body)) continue;
    for (const declared of (body as Node[]).flatMap(declarations)) {
      const { id, init } = declared as unknown as { id: Node; init: Node | null };
      if (!init) continue;
      if (isNamed(id, name)) return textsOf(tree, init);
      const place =
        id.type === "ArrayPattern" ? (id["elements"] as Node[]).findIndex((one) => isNamed(one, name)) : -1;
      if (place >= 0) return textsAt(tree, init, place);
    }
  }
  return [undefined];
}

function declarations(statement: Node): readonly Node[] {
  const declaration = (statement["declaration"] ?? statement) as Node;
  return declaration.type === "VariableDeclaration" && declaration["kind"] === "const"
    ? (declaration["declarations"] as Node[])
    : [];
}

/** What the calls of a function, by its name and in its own file, hand over at one place. */
function textsHandedTo(tree: Tree, of: Node, place: number): readonly Text[] {
  const holder = tree.parents.get(of);
  const id = (of["id"] ?? (holder?.type === "VariableDeclarator" ? holder["id"] : undefined)) as
    | Node
    | undefined;
  const name = String(id?.["name"] ?? "");
  const calls = tree.nodes.filter(({ type, callee }) => type === "CallExpression" && isNamed(callee, name));
  if (name === "" || isExported(tree, of) || calls.length === 0) return [undefined];
  return calls.flatMap((call) => {
    const handed = (call["arguments"] as Node[])[place];
    return handed ? textsOf(tree, handed) : [undefined];
  });
}

const isExported = (tree: Tree, of: Node): boolean => {
  for (const { type } of around(tree, of)) {
    if (type === "ExportNamedDeclaration") return true;
    if (type === "BlockStatement") return false;
  }
  return false;
};

/** Texts at one place of a list, of a choice of lists, or of every list in a table. */
function textsAt(tree: Tree, expression: Node, place: number): readonly Text[] {
  const node = inner(expression);
  if (node.type === "ArrayExpression") {
    const element = (node["elements"] as Node[])[place];
    return element ? textsOf(tree, element) : [undefined];
  }
  if (node.type === "LogicalExpression")
    return [node["left"], node["right"]].flatMap((side) => textsAt(tree, side as Node, place));
  if (node.type === "Identifier") {
    const init = constantNamed(tree, String(node["name"]));
    return init ? textsAt(tree, init, place) : [undefined];
  }
  if (node.type === "MemberExpression" && node["computed"] === true) {
    const table = constantNamed(tree, String((node["object"] as Node)["name"]));
    const rows = table && inner(table);
    if (rows?.type === "ObjectExpression")
      return (rows["properties"] as Node[]).flatMap((row) =>
        keyName(row) === undefined ? [undefined] : textsAt(tree, row["value"] as Node, place),
      );
  }
  return [undefined];
}

const constantNamed = (tree: Tree, name: string): Node | undefined =>
  tree.nodes.find(({ type, id }) => type === "VariableDeclarator" && isNamed(id, name))?.["init"] as
    | Node
    | undefined;
