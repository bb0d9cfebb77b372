import { canonicalEntry } from "../../core/record/canonical.ts";
import type { Entry, LogEvent } from "../../core/record/entry.ts";
import { isAboutTheRecord } from "../../core/record/replay.ts";
import { failed, type Issue, issue, ok, type Result } from "../../core/result.ts";
import { advance } from "../../core/sequence/advance.ts";
import type { Missing } from "../../core/sequence/missing.ts";
import { isFinal } from "../../core/sequence/states.ts";
import type { SequenceEvent, Stamp } from "../../core/sequence/vocabulary.ts";
import { clockJump } from "./clock-jump.ts";
import { createJob, isSameAct, type Job, jobKey, outcomeOf, settle } from "./jobs.ts";
import type {
  KeptWhat,
  LiveRun,
  Refusal,
  RunView,
  SendOptions,
  SendOutcome,
  SessionPorts,
} from "./live-run.ts";
import { type Loaded, loadRun } from "./load-run.ts";
import { createRunLog, type LooseEntry, type RunLog } from "./run-log.ts";
import { leadsToSafety } from "./safe-side.ts";
import { shownSnapshot } from "./view.ts";
import { watchPresence } from "./watch-presence.ts";
import { wellFormed } from "./well-formed.ts";

type Lock = Awaited<ReturnType<SessionPorts["lock"]["take"]>>;

const VIEWER = issue(
  "not-the-writer",
  "session",
  "this page only looks on: another one writes this run",
  "Go on in the other page, or take over here.",
);

/** Whoever speaks before anybody has signed on. */
const UNSIGNED = "unsigned";

/** How often a viewer looks again at what the writer has written, in ms. */
const LOOK_AGAIN_MS = 2000;

/**
 * The live run behind `LiveRun`. Two lines lead into the log: what is on the safe side is shown at
 * once and goes first; permissions wait behind it, are judged one at a time against what is
 * durable, and are given only when they are durable themselves.
 */
export class RunSession implements LiveRun {
  readonly #ports: SessionPorts;
  readonly #id: string;
  readonly #listeners = new Set<() => void>();
  #loaded: Loaded;
  #log: RunLog;
  #pending: Job[] = [];
  #calls: Job[] = [];
  #busy: Promise<void> | undefined;
  #again = false;
  #trouble: readonly Issue[];
  #findings: readonly Issue[] = [];
  /** The store was out of reach, or out of sight: it is read or probed again before anything is written. */
  #doubt: "none" | "probe" | "reload";
  #latched: string | undefined;
  #lock: Lock | undefined;
  #lastRefusal: Refusal | undefined;
  #lastStamp: Stamp | undefined;
  #stopWatching: () => void = () => {};
  #view: RunView;

  constructor(ports: SessionPorts, id: string, loaded: Loaded) {
    this.#ports = ports;
    this.#id = id;
    this.#loaded = loaded;
    this.#trouble = loaded.trouble;
    this.#doubt = loaded.trouble.length > 0 ? "reload" : "none";
    this.#findings = loaded.findings;
    this.#log = this.#createLog(loaded);
    this.#view = this.#look();
  }

  /** Makes this page the writer: what was pending before comes first, then `first`. */
  write(lock: Lock, first: readonly SequenceEvent[]): void {
    this.#lock = lock;
    this.#find(this.#ports.journal.open(this.#id, this.#loaded.code, this.#loaded.documents));
    void lock.lost.then(() => this.#loseLock(lock));
    this.#pending = this.#loaded.pending.map(createJob);
    for (const event of first) void this.#enter({ ...this.#stamp(), by: this.#speaker(event), event });
    this.#stopWatching = watchPresence(this, this.#ports, (gone) => this.#back(gone));
    this.#publish();
    void this.#pump();
  }

  /** Only looks on: shows what the writer writes, a little later. */
  lookOn(): void {
    const cancel = this.#ports.timer.after(LOOK_AGAIN_MS, () => {
      void this.#reload(false).then(() => {
        if (this.#lock) return;
        this.#publish();
        this.lookOn();
      });
    });
    this.#stopWatching = cancel;
  }

  readonly subscribe = (listener: () => void): (() => void) => {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  };

  readonly view = (): RunView => this.#view;

  readonly now = (): Stamp & { readonly by: string } => ({
    ...this.#ports.clock.now(),
    by: this.#speaker(undefined),
  });

  readonly send = (said: SequenceEvent, options: SendOptions = {}): Promise<SendOutcome> => {
    if (!this.#lock) return Promise.resolve({ kind: "refused", missing: [VIEWER] });
    const event = wellFormed(said);
    const text = canonicalEntry(event);
    if (!text.ok) return Promise.resolve({ kind: "not-saved", issues: text.issues });
    return this.#enter({ ...this.#stamp(options.timeStamp), by: options.by ?? this.#speaker(event), event });
  };

  readonly keep = (what: KeptWhat, words: string): Promise<SendOutcome> => {
    if (!this.#lock) return Promise.resolve({ kind: "refused", missing: [VIEWER] });
    const event = { type: "kept", what, words } as const;
    return this.#enter({ ...this.#stamp(), by: this.#speaker(undefined), event });
  };

  readonly retry = async (): Promise<Result<void>> => {
    if (!this.#lock) return failed(VIEWER);
    if (this.#doubt === "none") this.#doubt = "probe";
    await this.#pump();
    return this.#trouble.length > 0 ? failed(...this.#trouble) : ok(undefined);
  };

  readonly takeOver = async (): Promise<Result<void>> => {
    if (this.#lock) return ok(undefined);
    const lock = await this.#ports.lock.take("takeover");
    if (!lock.granted) return failed(VIEWER);
    this.#stopWatching();
    const loaded = await this.#reload(true);
    if (!loaded.ok) {
      lock.release();
      this.lookOn();
      return loaded;
    }
    this.write(lock, isFinal(this.#log.durable().snapshot.state) ? [] : [{ type: "restarted" }]);
    void this.keep("takeover", "another page of this device took over");
    return ok(undefined);
  };

  readonly leave = (): void => {
    this.#stopWatching();
    this.#lock?.release();
    this.#lock = undefined;
  };

  /** Puts an act on its way; the same act under way already is joined, not repeated. */
  #enter(loose: LooseEntry): Promise<SendOutcome> {
    const key = jobKey(loose.by, loose.event);
    const underWay = [...this.#pending, ...this.#calls].find((job) => job.key === key);
    const job = underWay ?? createJob(loose);
    const outcome = outcomeOf(job);
    if (!underWay && this.#showsAtOnce(loose)) this.#pend(job);
    else if (!underWay) this.#calls.push(job);
    this.#publish();
    void this.#pump();
    return outcome;
  }

  #pend(job: Job): void {
    this.#pending.push(job);
    this.#journalPending();
  }

  #showsAtOnce({ event, ...stamped }: LooseEntry): boolean {
    if (isAboutTheRecord(event)) return false;
    const shown = this.#view.snapshot;
    try {
      const after = advance(this.#loaded.sequence, shown, { ...stamped, event, seq: shown.context.seq + 1 });
      return after.ok && leadsToSafety(event, shown, after.value);
    } catch {
      // The same fault will show when the act is judged, and is dealt with there.
      return false;
    }
  }

  /** Works until both lines are empty or the log cannot be written; one worker at a time. */
  #pump(): Promise<void> {
    this.#again = true;
    this.#busy ??= this.#drain();
    return this.#busy;
  }

  async #drain(): Promise<void> {
    // Whoever called gets to publish what is pending before anything else happens.
    await undefined;
    while (this.#again) {
      this.#again = false;
      await this.#work();
    }
    // No await between the question and this: an act cannot slip in and be left lying.
    this.#busy = undefined;
    this.#publish();
  }

  async #work(): Promise<void> {
    while (this.#lock && (await this.#settleDoubt())) {
      const job = this.#pending[0] ?? this.#calls[0];
      if (!job || !(await this.#give(job))) return;
      this.#publish();
    }
  }

  async #settleDoubt(): Promise<boolean> {
    if (this.#doubt === "none") return true;
    const asked = this.#doubt === "probe" ? await this.#ports.store.probe() : await this.#reload(true);
    if (asked.ok) this.#doubt = "none";
    this.#trouble = asked.ok ? [] : asked.issues;
    if (!asked.ok) this.#giveUp([...this.#pending, ...this.#calls], asked.issues);
    return asked.ok;
  }

  /** Judges an act against what is durable and writes it, or logs the refusal. */
  async #give(job: Job): Promise<boolean> {
    const { event } = job.loose;
    try {
      const { entries, snapshot } = this.#log.durable();
      if (!isAboutTheRecord(event)) {
        const judged = advance(this.#loaded.sequence, snapshot, {
          ...job.loose,
          event,
          seq: entries.length,
        });
        if (!judged.ok) {
          this.#refuse(job, event, judged.issues);
          return true;
        }
      }
      const written = await this.#log.append(job.loose);
      this.#trouble = written.ok ? [] : written.issues;
      if (written.ok) return true;
      // A hold that came in behind a call that failed still gets its own try.
      const isCall = this.#calls.includes(job);
      this.#giveUp(isCall ? this.#calls : [...this.#pending, ...this.#calls], written.issues);
      return isCall && this.#pending.length > 0;
    } catch (fault) {
      this.#standStill(job, event, fault);
      return true;
    }
  }

  #refuse(job: Job, event: SequenceEvent, missing: readonly Missing[]): void {
    this.#remove(job);
    this.#lastRefusal = { event, missing };
    const refused = { type: "refused", event: event.type, missing: missing.map(({ code }) => code) } as const;
    this.#pend(createJob({ ...job.loose, event: refused }));
    settle(job, { kind: "refused", missing });
  }

  /** A mistake of ours lands on hold; where even the hold cannot be folded, it is shown all the same. */
  #standStill(job: Job, event: LogEvent, fault: unknown): void {
    this.#remove(job);
    const why = `the app met a fault of its own at ${event.type}: ${String(fault)}`;
    if (event.type === "hold-called") this.#latched = why;
    else this.#pend(createJob({ ...job.loose, event: { type: "hold-called", why } }));
    const remedy = "Hold is called. Use the paper card, and report this with the run file.";
    settle(job, { kind: "not-saved", issues: [issue("session-fault", event.type, why, remedy)] });
  }

  /** Called in the same breath as the durable state changes. */
  #adopted(entry: Entry, late: boolean): void {
    this.#find(this.#ports.journal.keep(entry));
    const job = [...this.#pending, ...this.#calls].find(({ loose }) => isSameAct(entry, loose));
    if (job) {
      this.#remove(job);
      settle(job, { kind: "accepted" });
    } else if (late) {
      const why = `entry ${entry.seq} (${entry.event.type}) reached the log late`;
      this.#pend(
        createJob({ ...this.#ports.clock.now(), by: entry.by, event: { type: "hold-called", why } }),
      );
    }
  }

  #remove(job: Job): void {
    const wasPending = this.#pending.includes(job);
    this.#pending = this.#pending.filter((other) => other !== job);
    this.#calls = this.#calls.filter((other) => other !== job);
    if (wasPending) this.#journalPending();
  }

  /** What is pending stays pending; calls are dropped, since what was true when they were made may not be later. */
  #giveUp(jobs: readonly Job[], issues: readonly Issue[]): void {
    this.#calls = this.#calls.filter((job) => !jobs.includes(job));
    for (const job of jobs) settle(job, { kind: "not-saved", issues });
  }

  #journalPending(): void {
    const acts = this.#pending.flatMap(({ loose }) =>
      isAboutTheRecord(loose.event) ? [] : [{ ...loose, event: loose.event }],
    );
    this.#find(this.#ports.journal.setPending(this.#id, acts));
  }

  #find(result: Result<void>): void {
    if (result.ok) return;
    const news = result.issues.filter(({ code }) => !this.#findings.some((known) => known.code === code));
    this.#findings = [...this.#findings, ...news];
  }

  async #reload(writer: boolean): Promise<Result<void>> {
    const loaded = await loadRun(this.#ports, this.#id, writer);
    if (!loaded.ok) return loaded;
    this.#loaded = loaded.value;
    this.#findings = loaded.value.findings;
    this.#log = this.#createLog(loaded.value);
    const known = this.#pending.filter(({ loose }) =>
      loaded.value.durable.entries.some((entry) => isSameAct(entry, loose)),
    );
    for (const job of known) {
      this.#remove(job);
      settle(job, { kind: "accepted" });
    }
    return loaded.value.trouble.length > 0 ? failed(...loaded.value.trouble) : ok(undefined);
  }

  #createLog({ sequence, durable }: Loaded): RunLog {
    const { store, device } = this.#ports;
    return createRunLog(
      {
        store,
        device,
        sequence,
        log: this.#id,
        mayAdopt: () => this.#lock !== undefined,
        adopted: (entry, late) => this.#adopted(entry, late),
      },
      durable,
    );
  }

  #loseLock(lock: Lock): void {
    if (this.#lock !== lock) return;
    this.#lock = undefined;
    this.#stopWatching();
    this.#giveUp([...this.#pending, ...this.#calls], [VIEWER]);
    this.#pending = [];
    this.#trouble = [];
    this.#publish();
    this.lookOn();
  }

  /** Back in sight: connections may have died meanwhile, so the log is tried before any control works. */
  #back(gone: SequenceEvent | undefined): void {
    this.#doubt = this.#doubt === "reload" ? "reload" : "probe";
    if (gone) void this.send(gone);
    else void this.#pump();
  }

  /** The stamp of an act; where the clocks have parted since the last one, that is entered first. */
  #stamp(timeStamp?: number): Stamp {
    const { clock } = this.#ports;
    const stamp = timeStamp === undefined ? clock.now() : clock.ofInput(timeStamp);
    const jump = this.#lastStamp && clockJump(this.#lastStamp, stamp);
    this.#lastStamp = stamp;
    if (jump && !isFinal(this.#view.snapshot.state))
      this.#pend(createJob({ ...stamp, by: this.#speaker(jump), event: jump }));
    return stamp;
  }

  #speaker(event: LogEvent | undefined): string {
    const { holder } = this.#view.snapshot.context;
    return holder ?? (event && "person" in event ? event.person : UNSIGNED);
  }

  #look(): RunView {
    const { code, documents, sequence } = this.#loaded;
    const { entries } = this.#log.durable();
    const opened = entries[0]?.event;
    const saving = this.#busy !== undefined || this.#pending.length > 0 || this.#calls.length > 0;
    return {
      log: this.#id,
      code,
      drill: opened?.type === "opened" && opened.drill,
      ...documents,
      sequence,
      snapshot: shownSnapshot(sequence, this.#log.durable(), this.#pending, this.#latched),
      entries,
      pending: this.#pending.flatMap(({ loose: { event } }) => (isAboutTheRecord(event) ? [] : [event])),
      save: this.#trouble.length > 0 ? "not-saved" : saving ? "saving" : "saved",
      trouble: this.#trouble,
      findings: this.#findings,
      writer: this.#lock !== undefined,
      lastRefusal: this.#lastRefusal,
    };
  }

  #publish(): void {
    this.#view = this.#look();
    for (const listener of this.#listeners) listener();
  }
}
