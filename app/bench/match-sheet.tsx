import { plainNumber } from "../../core/units/value-text.ts";
import { addressOf } from "../address.ts";
import type { ForceEvent } from "../ports.ts";
import type { Desk } from "./desk.ts";
import { type DeskFile, eventsOf, type Place, placesOf } from "./desk-file.ts";
import type { Evidence } from "./matching.ts";
import type { DeskRun } from "./run-conditions.ts";
import { dayText, timeText } from "./when.ts";

const evidenceWords: Readonly<Record<Evidence, string>> = {
  code: "its code is in the file's name or header",
  water: "the water that left fits",
  spacing: "it is as long after the one before as the releases were",
  order: "its place in the order",
};

/** Whose firings a file holds: suggested with the reason, confirmed by a person. */
export function MatchSheet({ desk, file }: { readonly desk: Desk; readonly file: DeskFile }) {
  const events = eventsOf(file);
  const places = placesOf(file, desk.runs.value, desk.suggestions.value);
  if (events.length === 0) return null;
  return (
    <section class="sheet" aria-labelledby="match-title">
      <h2 id="match-title">Whose firing is it?</h2>
      {desk.runs.value.length === 0 && (
        <p>
          No run is on the bench yet: bring in its run file, and this firing can be reduced by its conditions.
        </p>
      )}
      <ul class="match-list">
        {events.map((event, i) => (
          <Firing key={event.onset_s} {...{ desk, file, event, i }} place={places[i]} />
        ))}
      </ul>
    </section>
  );
}

function Firing(props: {
  readonly desk: Desk;
  readonly file: DeskFile;
  readonly event: ForceEvent;
  readonly i: number;
  readonly place: Place | undefined;
}) {
  const { desk, file, event, i, place } = props;
  const suggestion = desk.suggestions.value.find((one) => one.file === file.digest && one.event === i);
  const choose = (log: string) => void desk.join(file, i, log === "" ? undefined : log);
  return (
    <li>
      <p>
        <b>
          Firing {i + 1}, {plainNumber(event.onset_s, 4)} s into the record
        </b>
        : {plainNumber(event.report.impulse_Ns, 3)} N·s, end level {plainNumber(event.endLevel_N, 3)} N, as
        after {plainNumber((1e3 * event.endLevel_N) / 9.80665, 3)} g of water.
      </p>
      {place?.how === "joined" && (
        <p>
          Confirmed as <a href={addressOf("bench", "run", place.run.log)}>{place.run.code}</a>
          {place.join?.by ? ` by ${place.join.by}` : ""}, {evidenceText(place.join?.evidence ?? [])}.
        </p>
      )}
      {suggestion && place?.how === "suggested" && (
        <p>
          Looks like <a href={addressOf("bench", "run", place.run.log)}>{place.run.code}</a>:{" "}
          {evidenceText(suggestion.evidence)}.{" "}
          <button
            type="button"
            class="button go small"
            onClick={() => void desk.join(file, i, suggestion.log, suggestion.evidence)}
          >
            Yes, {place.run.code}
          </button>
        </p>
      )}
      <label>
        {place?.how === "joined" ? "Another run" : "Another run, or none"}{" "}
        <select
          class="desk-select"
          value={place?.how === "joined" ? place.run.log : ""}
          onChange={(change) => choose(change.currentTarget.value)}
        >
          <option value="">no run</option>
          {desk.runs.value.map((run) => (
            <option key={run.log} value={run.log}>
              {optionText(run)}
            </option>
          ))}
        </select>
      </label>
    </li>
  );
}

const evidenceText = (evidence: readonly Evidence[]) =>
  evidence.length === 0 ? "picked by hand" : evidence.map((one) => evidenceWords[one]).join(", ");

function optionText({ code, openedAt_ms, water_kg, set_Pa }: DeskRun): string {
  const water = water_kg === undefined ? "" : `, ${plainNumber(1e3 * water_kg, 3)} g`;
  const pressure = set_Pa === undefined ? "" : `, ${plainNumber(set_Pa / 1e5, 3)} bar`;
  return `${code}, ${dayText(openedAt_ms)} ${timeText(openedAt_ms)}${water}${pressure}`;
}
