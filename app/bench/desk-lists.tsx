import { valueWithU } from "../../core/units/value-text.ts";
import { addressOf } from "../address.ts";
import type { Desk } from "./desk.ts";
import { type DeskFile, eventsOf, isSynthetic, placesOf } from "./desk-file.ts";
import type { DeskRun } from "./run-conditions.ts";
import { dayText, timeText } from "./when.ts";

/** Firings of a run, wherever they lie. */
export type RunFiring = {
  readonly file: DeskFile;
  readonly event: number;
  readonly how: "joined" | "suggested";
};

export function firingsOf(desk: Desk, log: string): readonly RunFiring[] {
  return desk.files.value.flatMap((file) =>
    placesOf(file, desk.runs.value, desk.suggestions.value).flatMap((place, event): RunFiring[] =>
      place?.run.log === log && place.how !== "stands in" ? [{ file, event, how: place.how }] : [],
    ),
  );
}

export function DeskLists({ desk, open }: { readonly desk: Desk; readonly open: string | undefined }) {
  const runs = desk.runs.value;
  const files = desk.files.value;
  const days = [...new Set(runs.map(({ openedAt_ms }) => dayText(openedAt_ms)))];
  return (
    <nav class="desk-lists no-print" aria-label="On the bench">
      {runs.length > 0 && (
        <a class="button small" href={addressOf("bench", "series")} aria-current={open === "series"}>
          Series of all runs
        </a>
      )}
      {files.some((file) => unsettled(desk, file)) && <WaitingFiles desk={desk} open={open} />}
      {days.map((day) => (
        <section key={day}>
          <h2>
            {day} {runs.some((run) => run.synthetic && dayText(run.openedAt_ms) === day) && <SyntheticTag />}
          </h2>
          <ul>
            {runs
              .filter(({ openedAt_ms }) => dayText(openedAt_ms) === day)
              .map((run) => (
                <RunItem key={run.log} desk={desk} run={run} current={open === run.log} />
              ))}
          </ul>
        </section>
      ))}
      {files.length > 0 && (
        <details class="desk-files">
          <summary>
            {files.length} force file{files.length === 1 ? "" : "s"}{" "}
            {files.some(isSynthetic) && <SyntheticTag />}
          </summary>
          <ul>
            {files.map((file) => (
              <FileItem key={file.digest} file={file} current={open === file.digest} />
            ))}
          </ul>
        </details>
      )}
    </nav>
  );
}

/** Unreadable, without a firing, or with one that no person has placed. */
export function unsettled(desk: Desk, file: DeskFile): boolean {
  if (!file.reading.ok || (file.outcome !== undefined && eventsOf(file).length === 0)) return true;
  return placesOf(file, desk.runs.value, desk.suggestions.value).some((place) => place?.how !== "joined");
}

function WaitingFiles({ desk, open }: { readonly desk: Desk; readonly open: string | undefined }) {
  const waiting = desk.files.value.filter((file) => unsettled(desk, file));
  const coded = desk.suggestions.value.filter(({ evidence }) => evidence[0] === "code").length;
  return (
    <section>
      <h2>To be placed by a person {waiting.some(isSynthetic) && <SyntheticTag />}</h2>
      {coded > 0 && (
        <button type="button" class="button go small" onClick={() => void desk.joinCoded()}>
          Confirm {coded} named by code
        </button>
      )}
      <ul>
        {waiting.map((file) => (
          <FileItem key={file.digest} file={file} current={open === file.digest} />
        ))}
      </ul>
    </section>
  );
}

function RunItem({
  desk,
  run,
  current,
}: {
  readonly desk: Desk;
  readonly run: DeskRun;
  readonly current: boolean;
}) {
  const firings = firingsOf(desk, run.log);
  const [first] = firings;
  const event = first && eventsOf(first.file)[first.event];
  const impulse = event && valueWithU(event.report.impulse_Ns, event.report.u_impulse_Ns);
  return (
    <li>
      <a href={addressOf("bench", "run", run.log)} aria-current={current ? "page" : undefined}>
        <b>{run.code}</b> <span class="lead">{timeText(run.openedAt_ms)}</span>
        <span class="item-state">
          {impulse ? `${impulse.value} N·s` : stateOf(run)}
          {first?.how === "suggested" && " ?"}
          {event && event.warnings.length > 0 && <span title={`${event.warnings.length} warnings`}> ⚠</span>}
        </span>
        {run.drill && <span class="tag">DRILL</span>}
      </a>
    </li>
  );
}

function stateOf(run: DeskRun): string {
  if (run.released_ms === undefined) return "not released";
  return "no force record";
}

function FileItem({ file, current }: { readonly file: DeskFile; readonly current: boolean }) {
  const firings = eventsOf(file).length;
  const state = !file.reading.ok
    ? "cannot be read"
    : file.outcome === undefined
      ? "being reduced"
      : firings === 0
        ? "no firing found"
        : firings === 1
          ? "1 firing"
          : `${firings} firings`;
  return (
    <li>
      <a href={addressOf("bench", "file", file.digest)} aria-current={current ? "page" : undefined}>
        <b>{file.name}</b>
        <span class="item-state">{state}</span>
      </a>
    </li>
  );
}

const SyntheticTag = () => <span class="tag synthetic">SYNTHETIC</span>;
