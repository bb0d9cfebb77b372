import { canonicalEntry } from "../../core/record/canonical.ts";
import type { LogEvent } from "../../core/record/entry.ts";
import { isAboutTheRecord } from "../../core/record/replay.ts";
import { failed, issue, ok, type Result } from "../../core/result.ts";
import { advance } from "../../core/sequence/advance.ts";
import { isFinal } from "../../core/sequence/states.ts";
import type { SequenceEvent, Stamp } from "../../core/sequence/vocabulary.ts";
import { clockJump } from "./clock-jump.ts";
import { createJob, type Job, jobKey, outcomeOf, settle } from "./jobs.ts";
import type { KeptWhat, LiveRun, RunView, SendOptions, SendOutcome, SessionPorts } from "./live-run.ts";
import type { Loaded } from "./load-run.ts";
import { LogWorker } from "./log-worker.ts";
import type { LooseEntry } from "./run-log.ts";
import { leadsToSafety } from "./safe-side.ts";
import { viewOf } from "./view.ts";
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

/** The live run behind `LiveRun`: takes acts in, stamps them, and shows what has become of them. */
export class RunSession implements LiveRun {
  readonly #ports: SessionPorts;
  readonly #id: string;
  readonly #worker: LogWorker;
  readonly #listeners = new Set<() => void>();
  #lock: Lock | undefined;
  #lastStamp: Stamp | undefined;
  #stopWatching: () => void = () => {};
  #view: RunView;

  constructor(ports: SessionPorts, id: string, loaded: Loaded) {
    this.#ports = ports;
    this.#id = id;
    this.#worker = new LogWorker(ports, id, loaded, () => this.#publish());
    this.#view = viewOf(id, this.#worker);
  }

  /** Makes this page the writer: what was pending before comes first, then `first`. */
  write(lock: Lock, first: readonly SequenceEvent[]): void {
    const { pending } = this.#worker.loaded;
    this.#lock = lock;
    this.#worker.writing = true;
    void lock.lost.then(() => this.#loseLock(lock));
    this.#worker.journalWhole();
    for (const act of pending) this.#worker.lines.pend(createJob(act));
    for (const event of first) void this.#enter({ ...this.#stamp(), by: this.#speaker(event), event });
    this.#stopWatching = watchPresence(this, this.#ports, (gone) => this.#back(gone));
    this.#publish();
    void this.#worker.pump();
  }

  /** Only looks on: shows what the writer writes, a little later. */
  lookOn(): void {
    this.#stopWatching = this.#ports.timer.after(LOOK_AGAIN_MS, () => {
      void this.#worker.reload(false).then(() => {
        if (!this.#lock) this.lookOn();
      });
    });
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
    const event = wellFormed(said);
    const text = canonicalEntry(event);
    if (!text.ok) return Promise.resolve({ kind: "not-saved", issues: text.issues });
    return this.#say(event, options);
  };

  readonly keep = (what: KeptWhat, words: string): Promise<SendOutcome> =>
    this.#say({ type: "kept", what, words }, {});

  readonly retry = async (): Promise<Result<void>> => {
    if (!this.#lock) return failed(VIEWER);
    this.#worker.doubtStore();
    await this.#worker.pump();
    const { trouble } = this.#worker;
    return trouble.length > 0 ? failed(...trouble) : ok(undefined);
  };

  readonly takeOver = async (): Promise<Result<void>> => {
    if (this.#lock) return ok(undefined);
    const lock = await this.#ports.lock.take("takeover");
    if (!lock.granted) return failed(VIEWER);
    this.#stopWatching();
    const loaded = await this.#worker.reload(true);
    if (!loaded.ok) {
      lock.release();
      this.lookOn();
      return loaded;
    }
    this.write(lock, isFinal(this.#worker.durable.snapshot.state) ? [] : [{ type: "restarted" }]);
    void this.keep("takeover", "another page of this device took over");
    return ok(undefined);
  };

  readonly leave = (): void => {
    this.#stopWatching();
    this.#worker.writing = false;
    this.#lock?.release();
    this.#lock = undefined;
  };

  #say(event: LogEvent, { by, timeStamp }: SendOptions): Promise<SendOutcome> {
    if (!this.#lock) return Promise.resolve({ kind: "refused", missing: [VIEWER] });
    return this.#enter({ ...this.#stamp(timeStamp), by: by ?? this.#speaker(event), event });
  }

  /** Puts an act on its way; the same act under way already is joined, not repeated. */
  #enter(loose: LooseEntry): Promise<SendOutcome> {
    const { lines } = this.#worker;
    const key = jobKey(loose.by, loose.event);
    const underWay = lines.all.find((job) => job.key === key);
    const job: Job = underWay ?? createJob(loose);
    const outcome = outcomeOf(job);
    if (!underWay && this.#showsAtOnce(loose)) lines.pend(job);
    else if (!underWay) lines.call(job);
    this.#publish();
    void this.#worker.pump();
    return outcome;
  }

  #showsAtOnce({ event, ...stamped }: LooseEntry): boolean {
    if (isAboutTheRecord(event)) return false;
    const { snapshot, sequence } = this.#view;
    try {
      const after = advance(sequence, snapshot, { ...stamped, event, seq: snapshot.context.seq + 1 });
      return after.ok && leadsToSafety(event, snapshot, after.value);
    } catch {
      // The same fault will show when the act is judged, and is dealt with there.
      return false;
    }
  }

  #loseLock(lock: Lock): void {
    if (this.#lock !== lock) return;
    this.#lock = undefined;
    this.#worker.writing = false;
    this.#stopWatching();
    const left = this.#worker.lines.abandon();
    this.#publish();
    for (const job of left) settle(job, { kind: "not-saved", issues: [VIEWER] });
    this.lookOn();
  }

  /** Back in sight: connections may have died meanwhile, so the log is tried before any control works. */
  #back(gone: SequenceEvent | undefined): void {
    this.#worker.doubtStore();
    if (gone) void this.send(gone);
    else void this.#worker.pump();
  }

  /** The stamp of an act; where the clocks have parted since the last one, that is entered first. */
  #stamp(timeStamp?: number): Stamp {
    const { clock } = this.#ports;
    const stamp = timeStamp === undefined ? clock.now() : clock.ofInput(timeStamp);
    const jump = this.#lastStamp && clockJump(this.#lastStamp, stamp);
    this.#lastStamp = stamp;
    if (jump && !isFinal(this.#view.snapshot.state))
      this.#worker.lines.pend(createJob({ ...stamp, by: this.#speaker(jump), event: jump }));
    return stamp;
  }

  #speaker(event: LogEvent | undefined): string {
    const { holder } = this.#view.snapshot.context;
    return holder ?? (event && "person" in event ? event.person : UNSIGNED);
  }

  #publish(): void {
    this.#view = viewOf(this.#id, this.#worker);
    for (const listener of this.#listeners) listener();
  }
}
