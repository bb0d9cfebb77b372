import type { Issue } from "../../core/result.ts";
import type { Preferences } from "../ports.ts";
import { ColumnsSheet } from "./columns-sheet.tsx";
import { ConditionsSheet } from "./conditions-sheet.tsx";
import type { Desk } from "./desk.ts";
import { type DeskFile, eventsOf, isSynthetic, placesOf } from "./desk-file.ts";
import { channelsInUse, recorderSignature } from "./file-settings.ts";
import { FiringSheets } from "./firing-sheets.tsx";
import { MatchSheet } from "./match-sheet.tsx";
import { readPreset, writePreset } from "./presets.ts";
import { IssueList } from "./take-in-strip.tsx";
import { TraceSheet } from "./trace-sheet.tsx";
import { type ForceView, requestWithout } from "./use-force.ts";

export type FileSheetProps = {
  readonly desk: Desk;
  readonly view: ForceView;
  readonly file: DeskFile;
  readonly preferences: Preferences;
};

/** One force file: whether it can be read, how it is read, what it holds and whose it is. */
export function FileSheet(props: FileSheetProps) {
  const { desk, file, preferences } = props;
  const { reading } = file;
  return (
    <>
      <header class="run-head">
        <h2>
          {file.name} {isSynthetic(file) && <span class="tag synthetic">SYNTHETIC</span>}
        </h2>
        <p class="lead">
          SHA-256 <code>{file.digest}</code>
        </p>
      </header>
      <Troubles desk={desk} file={file} />
      {reading.ok && <ByHand desk={desk} file={file} />}
      <MatchSheet desk={desk} file={file} />
      <Firings {...props} />
      {reading.ok && <Columns {...{ desk, file, preferences }} reading={reading.value} />}
    </>
  );
}

/** Everything that stood in the way or was odd, in the order in which it is met. */
function Troubles({ desk, file }: { readonly desk: Desk; readonly file: DeskFile }) {
  const { reading, outcome } = file;
  const reduction = outcome?.reduction;
  return (
    <>
      {!reading.ok && <Trouble title="It cannot be read" issues={reading.issues} />}
      {reading.ok && outcome && !outcome.request.ok && <NoConditions desk={desk} file={file} />}
      {reduction && !reduction.ok && <Trouble title="It cannot be reduced" issues={reduction.issues} />}
      {reduction?.ok && reduction.value.issues.length > 0 && (
        <Trouble title="What was odd" issues={reduction.value.issues} />
      )}
    </>
  );
}

function Trouble({ title, issues }: { readonly title: string; readonly issues: readonly Issue[] }) {
  return (
    <section class="sheet">
      <h2>{title}</h2>
      <IssueList issues={issues} />
    </section>
  );
}

/** The trace to recognise the firings by; with conditions typed by hand, their whole reduction. */
function Firings({ desk, view, file }: FileSheetProps) {
  const events = eventsOf(file);
  const request = requestWithout(file, []);
  const [first] = events;
  const reduction = file.outcome?.reduction;
  if (!first || !request || !reduction?.ok) return null;
  const byHand = placesOf(file, desk.runs.value, desk.suggestions.value).every(
    (place) => place === undefined,
  );
  if (byHand)
    return (
      <>
        {events.map((event, i) => (
          <FiringSheets key={event.onset_s} {...{ desk, view, file }} place={i} run={undefined} />
        ))}
      </>
    );
  return (
    <TraceSheet {...{ desk, view, file, request }} place={0} event={first} trace={reduction.value.trace} />
  );
}

/** Offered while no run stands behind the record; what was typed stays to be corrected. */
function ByHand({ desk, file }: { readonly desk: Desk; readonly file: DeskFile }) {
  const places = placesOf(file, desk.runs.value, desk.suggestions.value);
  if (places.some((place) => place !== undefined)) return null;
  const request = file.outcome?.request;
  return (
    <ConditionsSheet
      conditions={file.record.settings.conditions ?? {}}
      issues={request && !request.ok ? request.issues : []}
      onConditions={(conditions) => void desk.set(file, { ...file.record.settings, conditions })}
    />
  );
}

function NoConditions({ desk, file }: { readonly desk: Desk; readonly file: DeskFile }) {
  const { outcome } = file;
  return (
    <section class="sheet">
      <h2>It cannot be reduced yet</h2>
      {desk.runs.value.length === 0 ? (
        <p>
          A force record is reduced by the conditions of its run: how much water, at what pressure, in which
          bottle. Bring in the run file; it finds this record by its code.
        </p>
      ) : (
        outcome && !outcome.request.ok && <IssueList issues={outcome.request.issues} />
      )}
    </section>
  );
}

function Columns(props: {
  readonly desk: Desk;
  readonly file: DeskFile;
  readonly preferences: Preferences;
  readonly reading: Extract<DeskFile["reading"], { ok: true }>["value"];
}) {
  const { desk, file, preferences, reading } = props;
  const { settings } = file.record;
  const [place] = placesOf(file, desk.runs.value, desk.suggestions.value);
  const signature = recorderSignature(reading);
  const preset = readPreset(preferences, signature);
  const followed = preset !== undefined && JSON.stringify(preset.settings) === JSON.stringify(settings);
  return (
    <ColumnsSheet
      reading={reading}
      settings={settings}
      channels={channelsInUse(reading, settings, place?.run.stored.documents.rig)}
      preset={followed ? "this recorder" : undefined}
      onSettings={(next) => void desk.set(file, next)}
      onPreset={() => writePreset(preferences, signature, settings)}
    />
  );
}
