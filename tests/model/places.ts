import type { Sequence } from "../../core/sequence/advance.ts";
import { stepAtHand } from "../../core/sequence/context.ts";
import type { Node } from "./abstraction.ts";
import { isHot } from "./independent/evidence.ts";
import type { Luck } from "./luck.ts";

export type Kept = { readonly sequence: Sequence; readonly node: Node };

/** Of one kind: the newest push out the others. */
const MOST = 30;

/**
 * Where earlier runs stood, for later ones to go on from: the hot side is far from the start. Apart by
 * what the step at hand asks for: few procedures ask for a gauge that may alarm while the pad is cleared.
 */
export class Places<Place extends Kept> {
  private readonly byState = new Map<string, Map<string, Place[]>>();

  constructor(private readonly luck: Luck) {}

  get isEmpty(): boolean {
    return this.byState.size === 0;
  }

  keep(place: Place): void {
    const { sequence, node } = place;
    const { state } = node.snapshot;
    if (!isHot(state) && state !== "clearing" && state !== "approaching") return;
    const byAsked = this.byState.get(state) ?? new Map<string, Place[]>();
    this.byState.set(state, byAsked);
    const form = stepAtHand(sequence.doc, node.snapshot)?.form;
    const asked = form?.kind === "measure" ? form.instrument : (form?.kind ?? "no step");
    const kept = byAsked.get(asked) ?? [];
    byAsked.set(asked, kept);
    if (kept.length < MOST) kept.push(place);
    else kept[this.luck.below(MOST)] = place;
  }

  /** @param behind  how much is due in a state, from 0 to 1: there it is picked oftener */
  pick(behind: (some: Place, state: string) => number): Place | undefined {
    const weighed = [...this.byState]
      .toSorted(([a], [b]) => (a < b ? -1 : 1))
      .flatMap(([state, byAsked]) => {
        const [[some]] = [...byAsked.values()] as [[Place]];
        return Array<string>(1 + Math.round(20 * behind(some, state) ** 2)).fill(state);
      });
    const byAsked = this.byState.get(this.luck.pick(weighed)) ?? new Map<string, Place[]>();
    return this.luck.pick(byAsked.get(this.luck.pick([...byAsked.keys()])) ?? []);
  }
}
