import { computed, signal } from "@preact/signals";
import { readRunFile } from "../../core/exchange/read-run-file.ts";
import { failed, type Issue, issue, ok, type Result } from "../../core/result.ts";
import type { FileStore, ForceWork, Preferences, RunStore, StoredRun } from "../ports.ts";
import {
  type BenchRecord,
  emptyRecord,
  type FileSettings,
  handMarks,
  type MarkName,
} from "./bench-record.ts";
import { type DeskFile, eventsOf, type Outcome, openRecord, placesOf } from "./desk-file.ts";
import { heldFiles, keepRecord } from "./desk-records.ts";
import { recorderSignature } from "./file-settings.ts";
import { ForceReader } from "./force-reader.ts";
import { forceRequest } from "./force-request.ts";
import { type Evidence, suggestMatches } from "./matching.ts";
import { readPreset } from "./presets.ts";
import { RunShelf } from "./run-shelf.ts";
import { ShownWork } from "./shown-work.ts";
import { type Incoming, kindOf } from "./take-in.ts";

/** What the bench needs of the world. */
export type DeskPorts = {
  readonly runs: RunStore;
  readonly files: FileStore;
  readonly force: ForceWork;
  readonly now_ms: () => number;
  readonly preferences: Preferences;
};

export type Rejected = { readonly id: number; readonly name: string; readonly issues: readonly Issue[] };

/** Runs and force files that are made when they are asked for. */
export type Term = {
  readonly runs: () => Iterable<StoredRun>;
  readonly files: () => Iterable<{ readonly name: string; readonly text: string }>;
  /** The matrix that the term was planned by, for the plan. */
  readonly matrix: { readonly name: string; readonly text: string };
};

/**
 * Everything that lies on the bench. What people decide is kept at once, each decision as a new file beside the
 * force record; what can be computed is computed again.
 */
export class Desk {
  readonly files = signal<readonly DeskFile[]>([]);
  readonly rejected = signal<readonly Rejected[]>([]);
  readonly loaded = signal(false);
  /** Code of the person at the bench, for what is logged here. */
  readonly person = signal("");
  readonly suggestions = computed(() => {
    const taken = new Set(this.files.value.flatMap(({ record }) => record.joins.map(({ log }) => log)));
    const candidates = this.runs.value.flatMap(({ log, code, released_ms, water_kg, drill }) =>
      released_ms === undefined || water_kg === undefined || drill
        ? []
        : [{ log, code, released_ms, water_kg }],
    );
    return suggestMatches(this.files.value.map(openRecord), candidates, taken);
  });
  readonly work = new ShownWork();
  readonly #ports: DeskPorts;
  readonly #shelf: RunShelf;
  readonly #reader: ForceReader;
  #ids = 0;
  #settling: Promise<void> | undefined;
  #again = false;

  constructor(ports: DeskPorts) {
    this.#ports = ports;
    this.#reader = new ForceReader(ports.files, ports.force, this.work);
    this.#shelf = new RunShelf(ports.runs, (name, issues) => this.#reject(name, issues));
  }

  get runs() {
    return this.#shelf.runs;
  }

  /** What this device holds from before. */
  async load(): Promise<void> {
    await this.#shelf.load();
    await this.#loadFiles();
    this.loaded.value = true;
    await this.#settle();
  }

  /** Takes in whatever was brought: run files and force files, told apart by what is in them. */
  async takeIn(incoming: readonly Incoming[]): Promise<void> {
    const kinds = await Promise.all(incoming.map(kindOf));
    // Runs first: force files are then matched against all of them at once.
    for (const [i, one] of incoming.entries()) if (kinds[i] === "run") await this.#takeRun(one);
    for (const [i, one] of incoming.entries()) if (kinds[i] === "force") await this.#takeForce(one);
    await this.#settle();
  }

  /** A whole term at once: runs are kept one after another, and how far that is shows. */
  async takeInTerm(term: Term): Promise<void> {
    const runs = [...term.runs()];
    await this.work.run(`Keeping ${runs.length} runs`, async ({ onProgress, signal }) => {
      for (const [i, run] of runs.entries()) {
        if (signal?.aborted) break;
        await this.#shelf.keep(run.code, run);
        onProgress?.((i + 1) / runs.length);
      }
      return ok(undefined);
    });
    const matrix = new TextEncoder().encode(term.matrix.text).buffer;
    await this.#ports.files.put({ name: term.matrix.name, kind: "result", at: 0, bytes: matrix });
    for (const { name, text } of term.files())
      await this.#takeForce({ name, bytes: new Blob([text]), written_ms: 0 });
    await this.#settle();
  }

  dismiss(id: number): void {
    this.rejected.value = this.rejected.value.filter((one) => one.id !== id);
  }

  /** A person says whose firing it is; taken back with `undefined`. */
  async join(file: DeskFile, event: number, log: string | undefined, evidence: readonly Evidence[] = []) {
    await this.#change(file.digest, { joins: this.#joins(file, event, log, evidence) });
  }

  /** Every suggestion that rests on a code, at one word. */
  async joinCoded(): Promise<void> {
    const coded = this.suggestions.value.filter((one) => one.evidence[0] === "code");
    for (const { file, event, log, evidence } of coded) {
      const found = this.#find(file);
      if (found) await this.#keep(file, { joins: this.#joins(found, event, log, evidence) });
    }
    await this.#settle();
  }

  #joins({ record }: DeskFile, event: number, log: string | undefined, evidence: readonly Evidence[]) {
    const others = record.joins.filter((one) => one.event !== event);
    if (log === undefined) return others;
    return [...others, { event, log, evidence, by: this.person.value, at: this.#ports.now_ms() }];
  }

  /** Another way of reading the file: kept, and done at once. */
  async set(file: DeskFile, settings: FileSettings): Promise<void> {
    const record = { ...file.record, settings };
    const reading = await this.#reader.read(record, this.#anyRig());
    this.#replace(file.digest, (one) => ({ ...one, reading: reading ?? one.reading }));
    await this.#change(file.digest, { settings });
  }

  /** Moves a mark by hand, or gives it back with `null`; the log says what it did to the impulse. */
  async moveMark(file: DeskFile, event: number, mark: MarkName, to_s: number | null): Promise<Result<void>> {
    const before = eventsOf(file)[event];
    if (!before) return failed(noFiring);
    const move = { event, mark, from_s: before[mark], to_s, by: this.person.value, at: this.#ports.now_ms() };
    const tried = { ...move, impulseBefore_Ns: before.report.impulse_Ns, impulseAfter_Ns: Number.NaN };
    const outcome = await this.#reduce({
      ...file,
      record: { ...file.record, moves: [...file.record.moves, tried] },
    });
    if (!outcome.reduction?.ok) return outcome.reduction ?? failed(noFiring);
    const after = outcome.reduction.value.events[event];
    if (!after) return failed(noFiring);
    const moves = [...file.record.moves, { ...tried, impulseAfter_Ns: after.report.impulse_Ns }];
    await this.#change(file.digest, { moves });
    return ok(undefined);
  }

  /** Every mark of a firing goes back to where it was found; the log keeps that it had been moved. */
  async giveBackMarks(file: DeskFile, event: number): Promise<void> {
    for (const mark of Object.keys(handMarks(file.record.moves, event)) as MarkName[]) {
      const current = this.#find(file.digest);
      if (current) await this.moveMark(current, event, mark, null);
    }
  }

  /** For views of their own: other corrections, curves. */
  get sourceOf() {
    return this.#reader.sourceOf;
  }

  async #takeRun({ name, bytes }: Incoming): Promise<void> {
    const read = readRunFile(await bytes.text());
    if (!read.ok) return this.#reject(name, read.issues);
    const { run, log, rig, procedure, entries } = read.value;
    return this.#shelf.keep(name, { log, code: run, documents: { rig, procedure }, entries });
  }

  async #takeForce({ name, bytes, written_ms }: Incoming): Promise<void> {
    const at = written_ms ?? this.#ports.now_ms();
    const kept = await this.#ports.files.put({ name, kind: "force", at, bytes: await bytes.arrayBuffer() });
    if (!kept.ok) return this.#reject(name, kept.issues);
    if (this.#find(kept.value)) return;
    this.#reader.hold(kept.value, bytes);
    await this.#open({ digest: kept.value, name, at }, emptyRecord(kept.value, name));
    await this.#readAsRemembered(kept.value);
  }

  /** A recorder that somebody has explained before is not guessed again. */
  async #readAsRemembered(digest: string): Promise<void> {
    const file = this.#find(digest);
    if (!file?.reading.ok) return;
    const preset = readPreset(this.#ports.preferences, recorderSignature(file.reading.value));
    if (!preset) return;
    const record = { ...file.record, settings: preset.settings };
    const reading = await this.#reader.read(record, this.#anyRig());
    this.#replace(digest, (one) => ({ ...one, reading: reading ?? one.reading }));
    await this.#keep(digest, { settings: preset.settings });
  }

  async #loadFiles(): Promise<void> {
    const found = await heldFiles(this.#ports.files);
    if (!found.ok) return this.#reject("the files on this device", found.issues);
    for (const { name, issues } of found.value.faults) this.#reject(name, issues);
    for (const { file, record } of found.value.held) await this.#open(file, record);
  }

  async #open(file: { digest: string; name: string; at: number }, record: BenchRecord): Promise<void> {
    const reading = await this.#reader.read(record, this.#anyRig());
    if (!reading) return;
    const { digest, name, at } = file;
    this.files.value = [...this.files.value, { digest, name, at, record, reading, outcome: undefined }];
  }

  /** Reduces every file whose conditions or settings are not those of its last result, until none is left. */
  #settle(): Promise<void> {
    this.#again = true;
    this.#settling ??= this.#work().finally(() => {
      this.#settling = undefined;
    });
    return this.#settling;
  }

  async #work(): Promise<void> {
    // Suggestions follow from results and results from suggestions; a few rounds bring them to rest.
    for (let round = 0; this.#again && round < mostRounds; round++) {
      this.#again = false;
      for (const { digest } of this.files.value) {
        const file = this.#find(digest);
        if (!file?.reading.ok || this.#keyOf(file) === file.outcome?.key) continue;
        const outcome = await this.#reduce(file);
        this.#replace(digest, (one) => ({ ...one, outcome }));
        this.#again = true;
      }
    }
  }

  async #reduce(file: DeskFile): Promise<Outcome> {
    const key = this.#keyOf(file);
    const request = this.#requestOf(file);
    if (!request.ok) return { key, request, reduction: undefined };
    return { key, request, reduction: await this.#reader.reduce(file.record, request.value) };
  }

  #requestOf(file: DeskFile): Outcome["request"] {
    if (!file.reading.ok) return file.reading;
    const places = placesOf(file, this.runs.value, this.suggestions.value);
    return forceRequest({
      record: file.record,
      reading: file.reading.value,
      runs: places.map((one) => one?.run),
    });
  }

  #keyOf(file: DeskFile): string {
    return JSON.stringify(this.#requestOf(file));
  }

  async #change(digest: string, change: Partial<BenchRecord>): Promise<void> {
    await this.#keep(digest, change);
    await this.#settle();
  }

  async #keep(digest: string, change: Partial<BenchRecord>): Promise<void> {
    const file = this.#find(digest);
    if (!file) return;
    const record = { ...file.record, ...change, revision: file.record.revision + 1 };
    this.#replace(digest, (one) => ({ ...one, record }));
    const kept = await keepRecord(this.#ports.files, record, this.#ports.now_ms());
    if (!kept.ok) this.#reject(`what was decided about ${file.name}`, kept.issues);
  }

  /** Its channels' names help to find the line that holds the names. */
  #anyRig() {
    return this.runs.value[0]?.stored.documents.rig;
  }

  #find(digest: string): DeskFile | undefined {
    return this.files.value.find((file) => file.digest === digest);
  }

  #replace(digest: string, change: (file: DeskFile) => DeskFile): void {
    this.files.value = this.files.value.map((file) => (file.digest === digest ? change(file) : file));
  }

  #reject(name: string, issues: readonly Issue[]): void {
    this.rejected.value = [...this.rejected.value, { id: ++this.#ids, name, issues }];
  }
}

/** Firings found by a stand-in's conditions, then by the suggested run's; more than this is a disagreement. */
const mostRounds = 6;

const noFiring = issue("no-firing", "event", "the record holds no such firing", "look at the trace");
