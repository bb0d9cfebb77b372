import { parseSync } from "vite";
import type { Source } from "./source.ts";

/** A syntax node as the rules about values read it: its kind, its place, and whatever else it has. */
export interface Node {
  type: string;
  start: number;
  end: number;
  [part: string]: unknown;
}

/** A file's nodes, with the way up from each. */
export interface Tree extends Source {
  nodes: readonly Node[];
  parents: ReadonlyMap<Node, Node>;
}

const isNode = (value: unknown): value is Node =>
  typeof value === "object" && value !== null && typeof (value as Node).type === "string";

/** For rules that follow a value from where it is used to where it is written. */
export function treeOf({ path, text }: Source): Tree {
  const nodes: Node[] = [];
  const parents = new Map<Node, Node>();
  const walk = (node: Node) => {
    nodes.push(node);
    for (const part of Object.values(node).flat()) {
      if (!isNode(part)) continue;
      parents.set(part, node);
      walk(part);
    }
  };
  walk(parseSync(path, text).program as unknown as Node);
  return { path, text, nodes, parents };
}

export const lineAt = ({ text }: Tree, { start }: Node): number => text.slice(0, start).split("\n").length;

export const isNamed = (node: unknown, name: string): boolean =>
  isNode(node) && node.type === "Identifier" && node["name"] === name;

/** The name of an object's part; undefined for a spread or a computed key. */
export function keyName({ type, key, computed }: Node): string | undefined {
  if (type !== "Property" || computed === true || !isNode(key)) return undefined;
  return String(key["name"] ?? key["value"]);
}

/** What stands around a node, from the inside outward. */
export function* around({ parents }: Tree, node: Node): Generator<Node> {
  for (let at = parents.get(node); at; at = parents.get(at)) yield at;
}
