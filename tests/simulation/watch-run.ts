import type { LiveRun, SendOutcome } from "../../app/session/live-run.ts";
import { canonicalEntry } from "../../core/record/canonical.ts";
import type { Entry } from "../../core/record/entry.ts";
import { replay } from "../../core/record/replay.ts";
import { verifyEntries } from "../../core/record/verify.ts";
import { createSequence } from "../../core/sequence/advance.ts";
import { isCold, isFinal } from "../../core/sequence/states.ts";
import { isReport, type SequenceEvent } from "../../core/sequence/vocabulary.ts";
import { documents, type World } from "./world.ts";

type Said = {
  readonly mark: string;
  readonly key: string;
  readonly type: SequenceEvent["type"];
  /** Shown as pending, so it must reach the log before anything said later. */
  readonly shown: boolean;
  outcome?: SendOutcome;
};

/** Sealed entries never change: each is put into words once. */
const marked = new WeakMap<object, string>();

const markOf = (act: Pick<Entry, "session" | "mono" | "at" | "by" | "event">): string => {
  const before = marked.get(act);
  if (before !== undefined) return before;
  const { session, mono, at, by, event } = act;
  const text = canonicalEntry({ session, mono, at, by, event });
  const mark = text.ok ? text.value : "";
  marked.set(act, mark);
  return mark;
};

/**
 * Watches one run over all its lives and writes down what must never happen. It looks at the disk
 * and at what was said and answered; of the session's own state it believes nothing.
 */
export class RunWatch {
  readonly violations: string[] = [];
  readonly #world: World;
  readonly #said: Said[];

  /** @param before  what was said on this device until its process died */
  constructor(world: World, before?: RunWatch) {
    this.#world = world;
    this.#said = before ? before.#said.map((said) => ({ ...said })) : [];
  }

  /** A page's view may show as durable only what is on the disk, or was once and is in the second copy. */
  attach(run: LiveRun): void {
    run.subscribe(() => {
      const written = this.#world.written();
      const ahead = run
        .view()
        .entries.find(({ seq, hash }) => written[seq]?.hash !== hash && !this.#world.isJournaled(hash));
      if (ahead) this.#violate(`entry ${ahead.seq} (${ahead.event.type}) was shown before it was written`);
    });
  }

  /** Sends an act and keeps what was said and answered. */
  send(run: LiveRun, event: SequenceEvent, by: string): Promise<SendOutcome> {
    const { at, mono, session } = run.now();
    const key = JSON.stringify({ by, event });
    const joined = this.#joined(run, event, key);
    const sent = run.send(event, { by });
    const shown = isReport(event.type) && run.view().writer;
    const said: Said = {
      mark: joined ?? markOf({ at, mono, session, by, event }),
      type: event.type,
      key,
      shown,
    };
    this.#said.push(said);
    if (shown) this.#checkShown(run, event);
    void sent.then((outcome) => {
      said.outcome = outcome;
      if (outcome.kind === "accepted" && !this.#marks().has(said.mark))
        this.#violate(`${event.type} was accepted and is not on the disk`);
    });
    return sent;
  }

  /** Right after a page opened the run: where a restart must have landed, and that nothing said is lost. */
  checkReopened(run: LiveRun): void {
    const { snapshot, pending, entries } = run.view();
    const { state, context } = snapshot;
    const proof = Object.keys(context.facts).filter((key) => /^(first-look|second-look|pull)/.test(key));
    if (proof.length > 0) this.#violate(`restraint proof stood after a restart: ${proof.join(", ")}`);
    const landed =
      isFinal(state) ||
      state === "unknown" ||
      state === "unresolved" ||
      (isCold(state) && context.hold !== undefined);
    if (!landed) this.#violate(`a restart landed in ${state} without a hold`);
    const marks = new Set([...this.#world.written(), ...entries].map(markOf));
    for (const { outcome, mark, type } of this.#said)
      if (outcome?.kind === "accepted" && !marks.has(mark)) this.#violate(`${type} was accepted and is lost`);
    const kept = new Set(pending.map((event) => event.type));
    for (const { mark, type, shown } of this.#said)
      if (shown && !marks.has(mark) && !kept.has(type))
        this.#violate(`${type} was shown as pending and is lost`);
  }

  /** The log as it lies on the disk: whole, foldable, without repeats, its order that of speech. */
  checkLog(): void {
    const entries = this.#world.written();
    const verified = verifyEntries(entries);
    if (!verified.ok)
      this.#violate(verified.issues.map(({ where, detail }) => `${where}: ${detail}`).join("; "));
    const folded = replay(createSequence(documents.rig, documents.procedure), entries);
    if (!folded.ok)
      this.#violate(
        folded.issues
          .map(({ where, detail }) => `the log holds what is refused, ${where}: ${detail}`)
          .join("; "),
      );
    const seqs = new Map<string, number>();
    for (const entry of entries) {
      const mark = markOf(entry);
      if (seqs.has(mark)) this.#violate(`${entry.event.type} is in the log twice`);
      seqs.set(mark, entry.seq);
    }
    for (const { mark, type, shown, outcome } of this.#said)
      if ((shown || outcome?.kind === "accepted") && !seqs.has(mark))
        this.#violate(`${type} was said and is not in the log at the end`);
    this.#checkOrder(seqs);
    this.#checkReleases(entries);
  }

  #checkOrder(seqs: ReadonlyMap<string, number>): void {
    for (const [i, call] of this.#said.entries()) {
      const callSeq = seqs.get(call.mark);
      if (callSeq === undefined || isReport(call.type)) continue;
      const overtaken = this.#said
        .slice(0, i)
        .find(({ shown, mark }) => shown && (seqs.get(mark) ?? Number.POSITIVE_INFINITY) > callSeq);
      if (overtaken) this.#violate(`${call.type} was given over a ${overtaken.type} that was still pending`);
    }
  }

  /** Looked at without the chart: each release rests on two people's look at every restraint since the last upset. */
  #checkReleases(entries: readonly Entry[]): void {
    let looks = new Map<string, { first?: string; second?: string }>();
    for (const { event, seq } of entries) {
      if (event.type === "restarted" || event.type === "mount-called" || event.type === "restrain-called")
        looks = new Map();
      if (event.type === "restraint-answered") {
        const look = event.answer === "home" && event.round === 2 ? looks.get(event.restraint) : {};
        const person =
          event.answer === "home" ? { [event.round === 1 ? "first" : "second"]: event.seenBy } : {};
        looks.set(event.restraint, { ...look, ...person });
      }
      if (event.type !== "release-called") continue;
      for (const { id } of documents.rig.restraints) {
        const { first, second } = looks.get(id) ?? {};
        if (!first || !second || first === second)
          this.#violate(`entry ${seq}: release called on restraint ${id} without two people's proof`);
      }
    }
  }

  #checkShown(run: LiveRun, event: SequenceEvent): void {
    const { state, context } = run.view().snapshot;
    if (isFinal(state)) return;
    if (event.type === "hold-called" && !context.hold) this.#violate("a hold did not show at once");
    if (event.type === "make-safe-called" && state !== "making-safe" && state !== "unresolved")
      this.#violate(`make safe did not show at once while ${state}`);
  }

  /** The same words by the same person, while they are still pending, are one act: the first one's, of whatever life. */
  #joined(run: LiveRun, event: SequenceEvent, key: string): string | undefined {
    const words = JSON.stringify(event);
    if (!run.view().pending.some((pending) => JSON.stringify(pending) === words)) return undefined;
    return this.#said.findLast((said) => said.shown && said.key === key)?.mark;
  }

  #marks(): ReadonlySet<string> {
    return new Set(this.#world.written().map(markOf));
  }

  #violate(what: string): void {
    this.violations.push(what);
  }
}
