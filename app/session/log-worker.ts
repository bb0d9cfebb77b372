import type { Entry, LogEvent } from "../../core/record/entry.ts";
import { isAboutTheRecord } from "../../core/record/replay.ts";
import { failed, type Issue, issue, ok, type Result } from "../../core/result.ts";
import { advance } from "../../core/sequence/advance.ts";
import type { Missing } from "../../core/sequence/missing.ts";
import type { SequenceEvent } from "../../core/sequence/vocabulary.ts";
import { createJob, type Job, settle } from "./jobs.ts";
import { Lines } from "./lines.ts";
import type { Refusal, SessionPorts } from "./live-run.ts";
import { type Loaded, loadRun } from "./load-run.ts";
import { createRunLog, type Durable, type RunLog } from "./run-log.ts";

/**
 * Brings what stands in the two lines into the log, one act at a time: judged against what is
 * durable, written, and only then said to be accepted.
 */
export class LogWorker {
  readonly lines: Lines;
  loaded: Loaded;
  trouble: readonly Issue[];
  findings: readonly Issue[];
  lastRefusal: Refusal | undefined;
  /** A fault of ours that not even a hold could be folded over. */
  latched: string | undefined;
  /** Whether this page may write at all. */
  writing = false;
  readonly #ports: SessionPorts;
  readonly #id: string;
  readonly #changed: () => void;
  #log: RunLog;
  /** The store was out of reach, or out of sight: it is read or probed before anything is written. */
  #doubt: "none" | "probe" | "reload";
  #busy: Promise<void> | undefined;
  #again = false;

  constructor(ports: SessionPorts, id: string, loaded: Loaded, changed: () => void) {
    this.#ports = ports;
    this.#id = id;
    this.#changed = changed;
    this.lines = new Lines((acts) => this.find(ports.journal.setPending(id, acts)));
    this.loaded = loaded;
    this.trouble = loaded.trouble;
    this.findings = loaded.findings;
    this.#doubt = loaded.trouble.length > 0 ? "reload" : "none";
    this.#log = this.#createLog(loaded);
  }

  get durable(): Durable {
    return this.#log.durable();
  }

  get saving(): boolean {
    return this.#doubt !== "none" || this.lines.all.length > 0;
  }

  /** The connection may have died out of sight: nothing more is written before a probe came back. */
  doubtStore(): void {
    if (this.#doubt === "none") this.#doubt = "probe";
  }

  /** Works until both lines are empty or the log cannot be written; one worker at a time. */
  pump(): Promise<void> {
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
    this.#changed();
  }

  async #work(): Promise<void> {
    while (this.writing && (await this.#settleDoubt())) {
      const job = this.lines.all[0];
      if (!job || !(await this.#give(job))) return;
    }
  }

  async #settleDoubt(): Promise<boolean> {
    if (this.#doubt === "none") return true;
    const asked = this.#doubt === "probe" ? await this.#ports.store.probe() : await this.reload(true);
    if (asked.ok) this.#doubt = "none";
    this.trouble = asked.ok ? [] : asked.issues;
    if (!asked.ok) this.#giveUp([...this.lines.pending, ...this.lines.dropCalls()], asked.issues);
    return asked.ok;
  }

  /** Judges an act and writes it, or logs the refusal. False: the log cannot be written now. */
  async #give(job: Job): Promise<boolean> {
    const { event } = job.loose;
    try {
      const { entries, snapshot } = this.durable;
      if (!isAboutTheRecord(event)) {
        const act = { ...job.loose, event, seq: entries.length };
        const judged = advance(this.loaded.sequence, snapshot, act);
        if (!judged.ok) {
          this.#refuse(job, event, judged.issues);
          return true;
        }
      }
      const written = await this.#log.append(job.loose);
      this.trouble = written.ok ? [] : written.issues;
      return written.ok || this.#notWritten(job, written.issues);
    } catch (fault) {
      this.#standStill(job, event, fault);
      return true;
    }
  }

  #notWritten(job: Job, issues: readonly Issue[]): boolean {
    const wasCall = this.lines.calls.includes(job);
    const dropped = this.lines.dropCalls();
    this.#giveUp(wasCall ? dropped : [...this.lines.pending, ...dropped], issues);
    // A hold that came in behind a call that failed still gets a try of its own.
    return wasCall && this.lines.pending.length > 0;
  }

  #giveUp(jobs: readonly Job[], issues: readonly Issue[]): void {
    this.#changed();
    for (const job of jobs) settle(job, { kind: "not-saved", issues });
  }

  #refuse(job: Job, event: SequenceEvent, missing: readonly Missing[]): void {
    this.lines.remove(job);
    this.lastRefusal = { event, missing };
    const refused = { type: "refused", event: event.type, missing: missing.map(({ code }) => code) } as const;
    this.lines.pend(createJob({ ...job.loose, event: refused }));
    this.#changed();
    settle(job, { kind: "refused", missing });
  }

  /** A mistake of ours lands on hold; where even the hold cannot be folded, it is shown all the same. */
  #standStill(job: Job, event: LogEvent, fault: unknown): void {
    this.lines.remove(job);
    const why = `the app met a fault of its own at ${event.type}: ${String(fault)}`;
    if (event.type === "hold-called") this.latched = why;
    else this.lines.pend(createJob({ ...job.loose, event: { type: "hold-called", why } }));
    const remedy = "Hold is called. Use the paper card, and report this with the run file.";
    this.#giveUp([job], [issue("session-fault", event.type, why, remedy)]);
  }

  /** Called in the same breath as the durable state changes. */
  #adopted(entry: Entry, late: boolean): void {
    this.find(this.#ports.journal.keep(entry));
    const job = this.lines.jobOf(entry);
    if (job) this.lines.remove(job);
    else if (late) {
      const why = `entry ${entry.seq} (${entry.event.type}) reached the log late`;
      const stamp = this.#ports.clock.now();
      this.lines.pend(createJob({ ...stamp, by: entry.by, event: { type: "hold-called", why } }));
    }
    // Before whoever waits is told: they look at the view first thing.
    this.#changed();
    if (job) settle(job, { kind: "accepted" });
  }

  /** Keeps what the second copy could not do, once each. */
  find(result: Result<void>): void {
    if (result.ok) return;
    const news = result.issues.filter(({ code }) => !this.findings.some((known) => known.code === code));
    this.findings = [...this.findings, ...news];
  }

  /** The second copy can give back a lost end only if it has no gap of its own. */
  journalWhole(): void {
    const { journal } = this.#ports;
    const { code, documents, unjournaled } = this.loaded;
    this.find(journal.open(this.#id, code, documents));
    for (const entry of unjournaled) this.find(journal.keep(entry));
  }

  /** Reads the run again from the store; what is pending and turns out to be there is accepted. */
  async reload(writer: boolean): Promise<Result<void>> {
    const loaded = await loadRun(this.#ports, this.#id, writer);
    if (!loaded.ok) return loaded;
    // What only the second copy says is not durable: nothing is accepted on its word.
    if (loaded.value.trouble.length > 0) return failed(...loaded.value.trouble);
    this.loaded = loaded.value;
    this.findings = loaded.value.findings;
    this.#log = this.#createLog(loaded.value);
    if (writer) this.journalWhole();
    const known = loaded.value.durable.entries.flatMap((entry) => this.lines.jobOf(entry) ?? []);
    for (const job of known) this.lines.remove(job);
    this.#changed();
    for (const job of known) settle(job, { kind: "accepted" });
    return ok(undefined);
  }

  #createLog({ sequence, durable }: Loaded): RunLog {
    const { store, device } = this.#ports;
    const mayAdopt = (): boolean => this.writing;
    const adopted = (entry: Entry, late: boolean): void => this.#adopted(entry, late);
    return createRunLog({ store, device, sequence, log: this.#id, mayAdopt, adopted }, durable);
  }
}
