import { plainNumber } from "../../core/units/value-text.ts";
import { version } from "../../package.json";
import type { ForceEvent, ForceRequest } from "../ports.ts";
import { DataTable, right } from "../widgets/data-table.tsx";
import type { MarkMove } from "./bench-record.ts";
import type { DeskFile } from "./desk-file.ts";
import type { DeskRun } from "./run-conditions.ts";
import { dayText, timeText } from "./when.ts";

export const markWords = { onset_s: "onset", waterEnd_s: "end of the water", end_s: "end" } as const;

export type SourceSheetProps = {
  readonly file: DeskFile;
  readonly place: number;
  readonly run: DeskRun | undefined;
  readonly request: ForceRequest;
  readonly event: ForceEvent;
  readonly onGiveBack: () => void;
};

/** From which bytes, with which settings, by which version: the same again gives the same numbers. */
export function SourceSheet(props: SourceSheetProps) {
  const { file, place, request, event } = props;
  const moves = file.record.moves.filter((move) => move.event === place);
  return (
    <section class="sheet" aria-labelledby="source-title">
      <h2 id="source-title">What this rests on</h2>
      <Facts {...props} />
      {moves.length > 0 && <Moves moves={moves} />}
      {Object.keys(event.byHand).length > 0 && (
        <button type="button" class="button small no-print" onClick={props.onGiveBack}>
          Put the marks back where they were found
        </button>
      )}
      <details class="no-print">
        <summary>Settings, whole</summary>
        <pre class="leading">{JSON.stringify(request, undefined, 1)}</pre>
      </details>
    </section>
  );
}

function Facts({ file, place, run, request, event }: SourceSheetProps) {
  return (
    <dl class="fact-list">
      <dt>Force file</dt>
      <dd>
        <a class="no-print" href={`#/bench/file/${file.digest}`}>
          {file.name}
        </a>
        <span class="print-only">{file.name}</span>, firing {place + 1}, SHA-256 <code>{file.digest}</code>
      </dd>
      <dt>Run</dt>
      <dd>
        {run ? (
          <>
            {run.code}, {run.stored.entries.length} entries, head{" "}
            <code>{run.stored.entries.at(-1)?.hash}</code>
          </>
        ) : (
          "none: the conditions were typed by hand"
        )}
      </dd>
      <dt>Software</dt>
      <dd>fourfast {version}</dd>
      <dt>Channels</dt>
      <dd>{channelsText(request)}</dd>
      <dt>Discharge times</dt>
      <dd>{event.discharges.map(dischargeText).join("; ")}</dd>
      <dt>Marks</dt>
      <dd>
        onset {plainNumber(event.onset_s, 6)} s, end of the water {plainNumber(event.waterEnd_s, 6)} s, end{" "}
        {plainNumber(event.end_s, 6)} s
      </dd>
      <dt>Assumed</dt>
      <dd>{assumedText(request) || "nothing"}</dd>
    </dl>
  );
}

function dischargeText({ name, source, value_s, u_s }: ForceEvent["discharges"][number]): string {
  if (value_s === undefined) return `${name}: ${source === "none" ? "holds, or not told" : source}`;
  return `${name}: ${plainNumber(value_s, 3)} s ± ${plainNumber(u_s ?? 0, 1)} s, ${source}`;
}

function channelsText({ setup }: ForceRequest): string {
  if (!setup.channels) return "as the file's own headers say";
  const together = setup.calibratedTogether ? "calibrated together" : "calibrated apart";
  const each = setup.channels.map(
    ({ column, unit, sign, sensitivityRelU }) =>
      `${column} in ${unit ?? "its header's unit"}, thrust reads ${sign === 1 ? "positive" : "negative"}, u ${plainNumber(100 * sensitivityRelU, 2)} %`,
  );
  return `${each.join("; ")}; ${together}`;
}

const assumedText = ({ options }: ForceRequest) =>
  Object.entries(options.assumed ?? {})
    .map(([key, value]) => `${key} = ${typeof value === "object" ? JSON.stringify(value) : String(value)}`)
    .join(", ");

function Moves({ moves }: { readonly moves: readonly MarkMove[] }) {
  return (
    <DataTable
      caption="Marks moved by hand"
      columns={[
        "When, by whom",
        "Mark",
        right("From, s"),
        right("To, s"),
        right("Changed the impulse by, N·s"),
      ]}
      rows={moves.map(({ at, by, mark, from_s, to_s, impulseBefore_Ns, impulseAfter_Ns }) => ({
        key: String(at),
        cells: [
          `${dayText(at)} ${timeText(at)} ${by}`,
          markWords[mark],
          plainNumber(from_s, 6),
          to_s === null ? "as found" : plainNumber(to_s, 6),
          plainNumber(impulseAfter_Ns - impulseBefore_Ns, 2),
        ],
      }))}
    />
  );
}
