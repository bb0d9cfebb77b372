import { createSequence, type Sequence } from "../../core/sequence/advance.ts";
import type { Act, SequenceEvent, Stamp } from "../../core/sequence/vocabulary.ts";
import type { Node } from "./abstraction.ts";
import { isOver } from "./independent/evidence.ts";
import { begin, type Documents, judge } from "./independent-model.ts";
import { inLockstep } from "./lockstep.ts";
import { Luck } from "./luck.ts";
import { actOf, type Crew, FOUR, type Move, movesIn, STRANGER, THREE } from "./moves.ts";
import { type Onward, onward, wayRound } from "./onward.ts";
import { type Kept, Places } from "./places.ts";

/**
 * Seeded runs in real time: mostly a willing crew, now and then anything that anybody could say. What
 * is odd is chosen among the least tried in that state, so that nothing is left out for long.
 */

export type Reached = { [name: string]: number };

export type RunsFound = {
  readonly events: number;
  readonly runs: number;
  readonly edges: Map<string, number>;
  readonly reached: Reached;
  readonly violations: readonly string[];
};

export type RunsWanted = {
  readonly documents: readonly Documents[];
  readonly seed: number;
  readonly events: number;
  /** For proofs that the judge is awake: a sequence made of other tables or another chart. */
  readonly sequenceOf?: (documents: Documents) => Sequence;
  /** Told of every act, in order. */
  readonly heard?: (heard: Heard) => void;
};

/** An act, the one before it in its run (-1 at the start), and what came of it by either account. */
export type Heard = {
  readonly id: number;
  readonly before: number;
  readonly documents: Documents;
  readonly act: Act;
  readonly from: string;
  readonly state: string;
  /** Refusals by code, sorted; undefined when it was accepted. */
  readonly refusedFor: string | undefined;
};

/** How often each edge of the chart is to be taken, at least, in runs of a given length. */
const due = (events: number): number => 10 + (events * 240) / 1e6;

/** A state that passes in one word has to be odd at once; the long way there must not be lost too often. */
const oddness = (state: string, behind: number): number => {
  if (["zeroed", "unresolved", "unknown"].includes(state) || isOver(state)) return 0.85;
  return behind > 0.2 ? 0.35 : 0.02 + behind * 0.1;
};

const atTheTime = ({ at, mono, session }: Stamp, seconds: number): Stamp => ({
  at: at + seconds * 1000,
  mono: mono + seconds * 10_000,
  session,
});

type Said = {
  readonly id: number;
  readonly act: Act;
  readonly state: string;
  readonly before: Said | undefined;
};

/** Where a run stands, and what was said until then. */
type Place = Kept & {
  readonly crew: Crew;
  readonly now: Stamp;
  readonly said: Said | undefined;
};

const toldBy = (last: Said | undefined): string => {
  const lines: string[] = [];
  for (let said = last; said; said = said.before) lines.push(`${said.state}: ${JSON.stringify(said.act)}`);
  return lines.reverse().join("\n  ");
};

class Runs {
  readonly edges = new Map<string, number>();
  readonly reached: Reached = {};
  readonly violations: string[] = [];
  readonly luck: Luck;
  private readonly places: Places<Place>;
  events = 0;
  runs = 0;

  constructor(private readonly wanted: RunsWanted) {
    this.luck = new Luck(wanted.seed);
    this.places = new Places(this.luck);
  }

  all(): void {
    const {
      documents,
      events,
      sequenceOf = ({ rig, procedure }) => createSequence(rig, procedure),
    } = this.wanted;
    const sequences = documents.map((one) => sequenceOf(one));
    while (this.events < events && this.violations.length === 0) {
      this.runs += 1;
      this.one(sequences[this.runs % sequences.length] as Sequence);
    }
  }

  /** One run from signing on, or from where an earlier one had come to, to a few words after its end. */
  private one(fresh: Sequence): void {
    const start = this.branch() ?? this.beginning(fresh);
    const { sequence, crew } = start;
    let { node, now, said } = start;
    let after = 12;
    const longest = start.said ? 60 : 300;
    for (let length = 0; length < longest && after > 0; length += 1) {
      const { state } = node.snapshot;
      if (isOver(state)) after -= 1;
      const odd = this.luck.chance(oddness(state, this.behind(sequence, state)));
      const usual = odd ? undefined : this.usual(sequence.doc, node, crew, now);
      now = this.later(now, usual?.after_s ?? 1);
      const move = usual ?? this.oddMove(sequence.doc, node, crew, now);
      if (move.event.type === "restarted") now = { ...now, mono: 0, session: `${node.session}'` };
      const act = actOf(move, node.seq, now);
      const before = said?.id ?? -1;
      said = { id: this.events, act, state, before: said };
      const { wrong, refusedFor, next } = inLockstep(sequence, node, act);
      this.events += 1;
      if (wrong.length > 0) {
        this.violations.push(`${wrong.join("; ")} on ${sequence.doc.procedure.id}\n  ${toldBy(said)}`);
        return;
      }
      this.count(state, move.event, refusedFor, next?.snapshot.state, node);
      this.wanted.heard?.({
        id: said.id,
        before,
        documents: sequence.doc,
        act,
        from: state,
        state: next?.snapshot.state ?? state,
        refusedFor: next ? undefined : [...new Set(refusedFor)].sort().join(),
      });
      node = next ?? { ...node, seq: node.seq + 1 };
      if (next) this.places.keep({ sequence, crew, node, now, said });
    }
  }

  private beginning(sequence: Sequence): Place {
    const crew = this.luck.chance(0.3) ? THREE : FOUR;
    const session = `s${this.runs}`;
    const node: Node = { snapshot: sequence.initial, memory: begin(), session, seq: 0 };
    return { sequence, crew, node, now: { at: 1_000_000_000_000, mono: 0, session }, said: undefined };
  }

  /** Most runs go on from where an earlier one stood, and there where most is due. */
  private branch(): Place | undefined {
    if (this.places.isEmpty || !this.luck.chance(0.7)) return undefined;
    return this.places.pick(({ sequence }, state) => this.behind(sequence, state));
  }

  /** How far the least taken edges out of this state are short of what is due by now, from 0 to 1. */
  private behind(sequence: Sequence, state: string): number {
    const wanted = (due(this.wanted.events) * this.events) / this.wanted.events;
    const short = (edge: string): number => Math.max(0, 1 - (this.edges.get(edge) ?? 0) / wanted);
    return wanted > 0 ? Math.max(0, ...edgesFrom(sequence, state).map(short)) : 1;
  }

  /** The way on, or round where that is shut; now and then the shut door is tried all the same. */
  private usual(docs: Documents, node: Node, crew: Crew, now: Stamp): Onward {
    const way = onward(docs, node.memory, crew, this.luck);
    const verdict = judge(docs, node.memory, actOf(way, node.seq, atTheTime(now, way.after_s)));
    if (verdict.accepted || this.luck.chance(0.1)) return way;
    return { event: wayRound(node.memory, verdict.codes), by: crew.conductor, after_s: 2 };
  }

  /** Time goes on by about a second, or by much; now and then the clocks part. */
  private later(now: Stamp, seconds: number): Stamp {
    const pause = this.luck.chance(0.01) ? this.luck.pick([20, 70, 400]) : this.luck.next();
    const passed = seconds + pause;
    const drift = this.luck.chance(0.005) ? this.luck.pick([-30, -1, 0.2, 0.4, 60]) : 0;
    return {
      ...now,
      at: Math.round(now.at + (passed + drift) * 1000),
      mono: Math.round(now.mono + passed * 10_000),
    };
  }

  private oddMove(docs: Documents, node: Node, crew: Crew, now: Stamp): Move {
    const { state } = node.snapshot;
    const people = [...Object.values(crew), STRANGER, "e"];
    const role = this.luck.pick(["conductor", "installer", "verifier", "releaser", "caller"] as const);
    const moves = movesIn(docs, state, {
      crew,
      holdCallers: [this.luck.pick(people)],
      correctable: this.correctable(node),
      outOfTurn: this.luck.chance(0.2),
      relief: [{ type: "signed-on", person: this.luck.pick(people), role }],
    });
    if (this.luck.chance(0.8)) return this.rarest(docs, node, moves, now);
    const { type } = this.luck.pick(moves).event;
    return this.luck.pick(moves.filter(({ event }) => event.type === type));
  }

  /** The move that leads, by the model's word, along the least trodden edge; a refusal is one edge of its kind. */
  private rarest(docs: Documents, node: Node, moves: readonly Move[], now: Stamp): Move {
    const { state } = node.snapshot;
    let best: Move[] = [];
    let least = Number.POSITIVE_INFINITY;
    for (const move of moves) {
      const verdict = judge(docs, node.memory, actOf(move, node.seq, now));
      const edge = `${state} ${move.event.type} ${verdict.accepted ? verdict.state : "refused"}`;
      const trodden = this.edges.get(edge) ?? 0;
      if (trodden < least) best = [];
      if (trodden <= least) best.push(move);
      least = Math.min(least, trodden);
    }
    return this.luck.pick(best);
  }

  /** Any entry may be corrected: one by which something stands, the last release, one at random. */
  private correctable({ snapshot: { context }, seq }: Node): readonly number[] {
    const standing = Object.entries(context.facts);
    const evidence = standing.filter(([key]) => /zero|silent|word/.test(key));
    const pool = evidence.length > 0 && this.luck.chance(0.5) ? evidence : standing;
    return [
      ...(pool.length > 0 ? [this.luck.pick(pool)[1].seq] : []),
      context.release?.seq ?? this.luck.below(seq + 1),
      this.luck.below(seq + 1),
    ];
  }

  private count(
    state: string,
    event: SequenceEvent,
    refusedFor: readonly string[],
    target: string | undefined,
    before: Node,
  ): void {
    const add = (name: string): void => {
      this.reached[name] = (this.reached[name] ?? 0) + 1;
    };
    if (target === undefined) {
      const refused = `${state} ${event.type} refused`;
      this.edges.set(refused, (this.edges.get(refused) ?? 0) + 1);
      add("refusals");
      for (const code of refusedFor) add(`refused for ${code.split(":")[0]}`);
      return;
    }
    const edge = `${state} ${event.type} ${target}`;
    this.edges.set(edge, (this.edges.get(edge) ?? 0) + 1);
    if (target === "closed" && state !== target) add("runs closed");
    if (target === "unresolved" && state !== target) add("unresolved");
    if (state !== "making-safe" && target === "making-safe" && event.type === "gauge-read") add("alarms");
    if (event.type === "restarted") add("restarts");
    if (event.type === "hold-called") add("holds");
    if (event.type === "discharge-called") add("discharges");
    if (event.type === "release-called") add("release calls");
    if (event.type === "corrected") add("corrections");
    if (event.type === "step-skipped") add("skips");
    if (state === "zeroed" && event.type === "released") add("releases");
    if (state === "zeroed" && event.type === "nothing-happened") add("misfires");
    if (event.type === "restraint-answered" && event.answer !== "home") {
      if (event.round === 1) add("catches");
      else add(before.memory.given[`first-look:${event.restraint}`] ? "mismatches" : "second-round findings");
    }
  }
}

export const randomRuns = (wanted: RunsWanted): RunsFound => {
  const runs = new Runs(wanted);
  runs.all();
  const { events, edges, reached, violations } = runs;
  return { events, runs: runs.runs, edges, reached, violations };
};

const EDGES = new WeakMap<object, ReadonlyMap<string, readonly string[]>>();

const edgesFrom = (sequence: Sequence, state: string): readonly string[] => {
  const known = EDGES.get(sequence) ?? edgesByState(sequence);
  EDGES.set(sequence, known);
  return known.get(state) ?? [];
};

const edgesByState = ({ chart }: Sequence): ReadonlyMap<string, readonly string[]> =>
  new Map(
    Object.entries(chart.config.states ?? {}).map(([state, { on = {} }]) => [
      state,
      Object.entries(on).flatMap(([event, transitions]) =>
        [transitions].flat().map((transition) => {
          const { target } = transition as { readonly target?: string };
          return `${state} ${event} ${target ?? state}`;
        }),
      ),
    ]),
  );

/** All edges of the chart, from its own configuration: `state event target`. */
export const edgesOf = (sequence: Sequence): readonly string[] => [...edgesByState(sequence).values()].flat();
