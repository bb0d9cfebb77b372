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

/** One force file: whether it can be read, how it is read, what it holds and whose it is. */
export function FileSheet(props: {
  readonly desk: Desk;
  readonly view: ForceView;
  readonly file: DeskFile;
  readonly preferences: Preferences;
}) {
  const { desk, view, file, preferences } = props;
  const { reading, outcome } = file;
  const reduction = outcome?.reduction;
  const events = eventsOf(file);
  const request = requestWithout(file, []);
  const byHand = placesOf(file, desk.runs.value, desk.suggestions.value).every(
    (place) => place === undefined,
  );
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
      {!reading.ok && (
        <section class="sheet">
          <h2>It cannot be read</h2>
          <IssueList issues={reading.issues} />
        </section>
      )}
      {outcome && !outcome.request.ok && reading.ok && <NoConditions desk={desk} file={file} />}
      {reading.ok && <ByHand desk={desk} file={file} />}
      {reduction && !reduction.ok && (
        <section class="sheet">
          <h2>It cannot be reduced</h2>
          <IssueList issues={reduction.issues} />
        </section>
      )}
      {reduction?.ok && reduction.value.issues.length > 0 && (
        <section class="sheet">
          <h2>What was odd</h2>
          <IssueList issues={reduction.value.issues} />
        </section>
      )}
      <MatchSheet desk={desk} file={file} />
      {events[0] && request && reduction?.ok && !byHand && (
        <TraceSheet
          {...{ desk, view, file, request }}
          place={0}
          event={events[0]}
          trace={reduction.value.trace}
        />
      )}
      {byHand &&
        events.map((event, i) => (
          <FiringSheets key={event.onset_s} {...{ desk, view, file }} place={i} run={undefined} />
        ))}
      {reading.ok && <Columns {...{ desk, file, preferences }} reading={reading.value} />}
    </>
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
