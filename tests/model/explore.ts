import type { Sequence } from "../../core/sequence/advance.ts";
import { REPORT_TYPES } from "../../core/sequence/vocabulary.ts";
import { AGEINGS, grown, keyOf, NOON, type Node } from "./abstraction.ts";
import { COLD, EVIDENCE, holding, isOver, keysOf } from "./independent/evidence.ts";
import { begin } from "./independent-model.ts";
import { inLockstep, type Outcome } from "./lockstep.ts";
import { actOf, type Crew, type Move, type MoveOptions, movesIn, signOns } from "./moves.ts";

/**
 * Breadth-first search over the real `advance`: from a signed-on crew, every move in every state
 * that can be reached, until nothing new turns up.
 */

export type Search = {
  readonly sequence: Sequence;
  readonly crew: Crew;
  readonly holdCallers: readonly string[];
  readonly relief: MoveOptions["relief"];
  /** Whether any earlier proof may be withdrawn, or only those of the restraints. */
  readonly corrections: "any" | "restraints";
  readonly only?: readonly string[];
  /** Holds that may wait behind the one in front: beyond this many a state is judged, but not left. */
  readonly holdsBehind: number;
  /** The search gives up beyond this: an abstraction that does not close is a mistake of ours. */
  readonly limit: number;
  readonly progress?: (done: number, names: readonly string[]) => void;
};

export type Found = {
  readonly states: number;
  readonly accepted: number;
  readonly refused: number;
  /** `state event target` of the chart, and how often it was taken. */
  readonly edges: ReadonlyMap<string, number>;
  readonly violations: readonly string[];
  /** States by the chart's name, for the record. */
  readonly byState: ReadonlyMap<string, number>;
};

const RESTRAINT_PROOF = ["first-look", "pull-tested", "second-look"];

/** Proofs of earlier stages that belong here and do not stand. */
const missingHere = ({ sequence }: Search, { memory }: Node): readonly string[] =>
  Object.keys(EVIDENCE).filter((id) => {
    const { survives, stages, path } = EVIDENCE[id]!;
    if (!survives.includes(memory.state) || stages.includes(memory.state)) return false;
    if (path !== undefined || id === "clear" || stages.length === 0) return false;
    return !keysOf(sequence.doc, id).every((key) => holding(sequence.doc, memory, key));
  });

/**
 * The entries that may be corrected: those of this stage always; of an earlier stage where nothing
 * else of those is missing, so that at most one earlier proof stands withdrawn at a time.
 */
const correctable = (search: Search, node: Node): readonly number[] => {
  const { context, state } = node.snapshot;
  const whole = missingHere(search, node).length === 0;
  const seqs = new Set<number>([-1]);
  for (const [key, { seq }] of Object.entries(context.facts)) {
    const id = key.split(":")[0] as string;
    const { stages, path } = EVIDENCE[id]!;
    const ofHere = stages.includes(state) || path !== undefined || id === "emptied-by-word";
    const named = search.corrections === "any" || RESTRAINT_PROOF.includes(id);
    if (ofHere || (state === "restraining" && named) || (named && whole)) seqs.add(seq);
  }
  if (context.release && !context.doubt) seqs.add(context.release.seq);
  return [...seqs];
};

const describe = ({ event, by }: Move): string => `${by}: ${JSON.stringify(event)}`;

const isReport = (type: string): boolean => (REPORT_TYPES as readonly string[]).includes(type);

const attempt = ({ sequence }: Search, node: Node, move: Move): Outcome => {
  // A new session is one that the stamps before it do not share; its name says no more.
  const session = move.event.type === "restarted" ? `s${node.seq}` : node.session;
  return inLockstep(sequence, node, actOf(move, node.seq, { ...NOON, session }));
};

type Edge = { readonly to: number; readonly kind: "plain" | "restart" | "word" };

const kindOf = (type: string): Edge["kind"] => {
  if (type === "restarted") return "restart";
  return type === "unresolved-ended" || type === "discharge-agreed" ? "word" : "plain";
};

class Frontier {
  readonly nodes: (Node | undefined)[] = [];
  readonly trails: { readonly from: number; readonly said: string }[] = [];
  readonly out: Edge[][] = [];
  readonly names: string[] = [];
  private readonly known = new Map<string, number>();

  add(key: string, node: Node, from: number, said: string): number {
    const known = this.known.get(key);
    if (known !== undefined) return known;
    const id = this.nodes.length;
    this.known.set(key, id);
    this.nodes.push(node);
    this.names.push(node.snapshot.state);
    this.trails.push({ from, said });
    this.out.push([]);
    return id;
  }

  trail(id: number): string {
    const steps: string[] = [];
    for (let at = id; at >= 0; at = this.trails[at]!.from) steps.push(this.trails[at]!.said);
    return steps.reverse().join("\n  ");
  }

  /** The nodes from which no goal can be reached by the edges that count. */
  stuck(
    isGoal: (state: string) => boolean,
    counts: (edge: Edge, from: number) => boolean,
  ): readonly number[] {
    const back: number[][] = this.out.map(() => []);
    for (const [from, edges] of this.out.entries())
      for (const edge of edges) if (counts(edge, from)) back[edge.to]!.push(from);
    const reached = this.names.map(isGoal);
    const queue = [...reached.keys()].filter((id) => reached[id]);
    for (let id = queue.pop(); id !== undefined; id = queue.pop())
      for (const from of back[id]!)
        if (!reached[from]) {
          reached[from] = true;
          queue.push(from);
        }
    return [...reached.keys()].filter((id) => !reached[id]);
  }
}

const signedOn = (search: Search): Node => {
  let node: Node = { snapshot: search.sequence.initial, memory: begin(), session: "s", seq: 0 };
  for (const move of signOns(search.crew)) {
    const { wrong, next } = attempt(search, node, move);
    if (!next || wrong.length > 0) throw new Error(`the crew cannot sign on: ${wrong}`);
    node = next;
  }
  return node;
};

export const explore = (search: Search): Found => {
  const { sequence } = search;
  const frontier = new Frontier();
  const edges = new Map<string, number>();
  const violations: string[] = [];
  let accepted = 0;
  let refused = 0;
  const start = signedOn(search);
  frontier.add(keyOf(sequence, start), start, -1, "the crew is signed on");
  for (let id = 0; id < frontier.nodes.length && violations.length < 20; id += 1) {
    if (id % 1000 === 0) search.progress?.(id, frontier.names);
    const node = frontier.nodes[id]!;
    const { state } = node.snapshot;
    if (id > search.limit) {
      violations.push(`more than ${search.limit} states, ${frontier.nodes.length} known`);
      break;
    }
    const options: MoveOptions = {
      ...search,
      // Whoever holds a role now is the one who speaks in it.
      crew: node.memory.roles as Crew,
      correctable: correctable(search, node),
      // On hold what is out of turn is refused on one count more: once is enough.
      outOfTurn: node.memory.holds.length === 0,
    };
    for (const move of movesIn(sequence.doc, state, options)) {
      if (search.only && !search.only.includes(move.event.type)) continue;
      const { wrong, next } = attempt(search, node, move);
      if (wrong.length > 0)
        violations.push(`${state}: ${describe(move)}: ${wrong.join("; ")}\n  ${frontier.trail(id)}`);
      if (!next) {
        refused += 1;
        if (isReport(move.event.type)) violations.push(`a report was refused: ${describe(move)}`);
        continue;
      }
      accepted += 1;
      const edge = `${state} ${move.event.type} ${next.snapshot.state}`;
      edges.set(edge, (edges.get(edge) ?? 0) + 1);
      if (next.snapshot.context.furtherHolds.length > search.holdsBehind) continue;
      const to = frontier.add(keyOf(sequence, next), next, id, describe(move));
      if (to !== id) frontier.out[id]!.push({ to, kind: kindOf(move.event.type) });
    }
    for (const what of AGEINGS) {
      const next = grown(sequence, node, what);
      if (!next) continue;
      const to = frontier.add(keyOf(sequence, next), next, id, `${what} grows old`);
      frontier.out[id]!.push({ to, kind: "plain" });
    }
    // Only its trail is needed again.
    frontier.nodes[id] = undefined;
  }
  // Where only some words may be said, a way out may be among the others.
  if (violations.length === 0 && search.only === undefined) violations.push(...trapped(frontier));
  const byState = new Map<string, number>();
  for (const name of frontier.names) byState.set(name, (byState.get(name) ?? 0) + 1);
  return { states: frontier.names.length, accepted, refused, edges, violations, byState };
};

/**
 * Invariant 13: a safe end from everywhere, without a restart; without anybody's word unless unresolved.
 * And while nothing is charged, a release can still be come to: whatever was found can be put right.
 */
const trapped = (frontier: Frontier): readonly string[] => {
  const noRestart = frontier.stuck(isOver, ({ kind }) => kind !== "restart");
  const noWord = frontier.stuck(
    isOver,
    ({ kind }, from) => kind === "plain" || (kind === "word" && frontier.names[from] === "unresolved"),
  );
  const noRelease = frontier
    .stuck(
      (state) => state === "zeroed",
      ({ kind }) => kind !== "restart",
    )
    .filter((id) => COLD.includes(frontier.names[id] ?? "") || frontier.names[id] === "approaching");
  return [
    ...noRelease.slice(0, 3).map((id) => `giving up is the only way on from\n  ${frontier.trail(id)}`),
    ...noRestart.slice(0, 3).map((id) => `invariant 13: no safe end from\n  ${frontier.trail(id)}`),
    ...noWord.slice(0, 3).map((id) => `invariant 13: only a word leads out of\n  ${frontier.trail(id)}`),
  ];
};
