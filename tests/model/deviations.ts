import type { Sequence } from "../../core/sequence/advance.ts";
import type { Stamp } from "../../core/sequence/vocabulary.ts";
import { keyOf, type Node } from "./abstraction.ts";
import { isOver } from "./independent/evidence.ts";
import { begin, judge } from "./independent-model.ts";
import { inLockstep } from "./lockstep.ts";
import { Luck } from "./luck.ts";
import { actOf, FOUR, type Move, movesIn, waysOn } from "./moves.ts";
import { onward, wayRound } from "./onward.ts";
import type { Heard } from "./random-run.ts";

/**
 * From every place that a willing crew comes to in a few runs of its own, everything that could be
 * said there instead, and how the crew goes on after it: what one word can change shows.
 */
export type DeviationsWanted = {
  readonly sequence: Sequence;
  /** Each of these runs is lucky in its own way: released, misfired, unresolved. */
  readonly seeds: readonly number[];
  /** How long the crew is followed after an odd word. */
  readonly follow: number;
  readonly heard: (heard: Heard & { readonly deviation?: string }) => void;
  readonly firstId: number;
};

type Place = { readonly node: Node; readonly now: Stamp; readonly id: number };

class Deviations {
  private nextId: number;
  private readonly left = new Set<string>();
  private readonly followed = new Set<string>();
  private readonly probed = new Set<string>();

  constructor(private readonly wanted: DeviationsWanted) {
    this.nextId = wanted.firstId;
  }

  all(): number {
    for (const seed of this.wanted.seeds) {
      const luck = new Luck(seed);
      let place = this.start(seed);
      for (let length = 0; length < 250 && !isOver(place.node.snapshot.state); length += 1) {
        this.deviateFrom(place, new Luck(seed + length));
        place = this.goOn(place, luck);
      }
    }
    return this.nextId;
  }

  private start(seed: number): Place {
    const session = `d${seed}`;
    const node: Node = { snapshot: this.wanted.sequence.initial, memory: begin(), session, seq: 0 };
    return { node, now: { at: 1_000_000_000_000, mono: 0, session }, id: -1 };
  }

  private say(place: Place, move: Move, after_s: number, deviation?: string): Place {
    const { sequence, heard } = this.wanted;
    const restarts = move.event.type === "restarted";
    const now: Stamp = {
      at: place.now.at + after_s * 1000,
      mono: restarts ? 0 : place.now.mono + after_s * 10_000,
      session: restarts ? `${place.now.session}'` : place.now.session,
    };
    const act = actOf(move, place.node.seq, now);
    const { wrong, refusedFor, next } = inLockstep(sequence, place.node, act);
    if (wrong.length > 0) throw new Error(`the two accounts disagree: ${wrong.join("; ")}`);
    const id = this.nextId;
    this.nextId += 1;
    heard({
      id,
      before: place.id,
      documents: sequence.doc,
      act,
      from: place.node.snapshot.state,
      state: next?.snapshot.state ?? place.node.snapshot.state,
      refusedFor: next ? undefined : [...new Set(refusedFor)].sort().join(),
      ...(deviation !== undefined && { deviation }),
    });
    return { node: next ?? { ...place.node, seq: place.node.seq + 1 }, now, id };
  }

  private goOn(place: Place, luck: Luck, deviation?: string): Place {
    const { doc } = this.wanted.sequence;
    const { memory, seq } = place.node;
    const way = onward(doc, memory, FOUR, luck);
    const later = {
      ...place.now,
      at: place.now.at + way.after_s * 1000,
      mono: place.now.mono + way.after_s * 10_000,
    };
    const verdict = judge(doc, memory, actOf(way, seq, later));
    const move = verdict.accepted ? way : { event: wayRound(memory, verdict.codes), by: FOUR.conductor };
    return this.say(place, move, way.after_s, deviation);
  }

  private deviateFrom(place: Place, luck: Luck): void {
    const { sequence, follow } = this.wanted;
    const key = keyOf(sequence, place.node);
    if (this.left.has(key)) return;
    this.left.add(key);
    const { context, state } = place.node.snapshot;
    const moves = movesIn(sequence.doc, state, {
      crew: FOUR,
      holdCallers: [FOUR.releaser],
      correctable: [...new Set(Object.values(context.facts).map(({ seq }) => seq))],
      outOfTurn: true,
      relief: [{ type: "signed-on", person: FOUR.releaser, role: "releaser" }],
    });
    for (const move of moves) {
      const { type } = move.event;
      let after = this.say(place, move, 1, type);
      const led = keyOf(sequence, after.node);
      if (this.followed.has(led)) continue;
      this.followed.add(led);
      this.probe(after, type);
      for (let step = 0; step < follow && !isOver(after.node.snapshot.state); step += 1) {
        const { state: before } = after.node.snapshot;
        after = this.goOn(after, luck, type);
        if (after.node.snapshot.state !== before) this.probe(after, type);
      }
    }
    this.lingerAt(place);
  }

  /** Every way on once more after each of the rig's times has run out: what grows old shows. */
  private lingerAt(place: Place): void {
    const { doc } = this.wanted.sequence;
    const { clearBeforeZero_s, clearBeforeAir_s, timeAtPressure_s } = doc.rig.limits;
    for (const passed_s of [clearBeforeZero_s, clearBeforeAir_s, timeAtPressure_s])
      for (const move of waysOn(doc, place.node.snapshot.state, FOUR)) this.say(place, move, passed_s + 1);
  }

  /** Every way on is tried from here, and left again: what the odd word has shut or opened shows. */
  private probe(place: Place, deviation: string): void {
    const { state } = place.node.snapshot;
    const key = keyOf(this.wanted.sequence, place.node);
    if (this.probed.has(key)) return;
    this.probed.add(key);
    for (const move of waysOn(this.wanted.sequence.doc, state, FOUR)) this.say(place, move, 1, deviation);
  }
}

/** @returns the first id that is still free */
export const deviate = (wanted: DeviationsWanted): number => new Deviations(wanted).all();
