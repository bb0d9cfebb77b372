import { useState } from "preact/hooks";
import type { ChannelSetup } from "../../core/exchange/setup-channels.ts";
import type { Role } from "../../core/force/columns.ts";
import type { Decimal, Separator } from "../../core/force/layout.ts";
import { shortNumber } from "../../core/units/value-text.ts";
import type { ForceReading } from "../ports.ts";
import { fieldUnits, QuantityField } from "../widgets/quantity-field.tsx";
import { ScrollBox } from "../widgets/scroll-box.tsx";
import type { FileSettings } from "./bench-record.ts";
import { channelFor, withChannel, withRole } from "./file-settings.ts";

const roleWords: Readonly<Record<Role, string>> = {
  time: "time",
  force: "force",
  sum: "sum of the others",
  count: "running number",
  words: "words",
  other: "something else",
};

const separatorWords: Readonly<Record<Separator, string>> = {
  ",": "comma",
  ";": "semicolon",
  "\t": "tab",
  "|": "bar |",
  blanks: "blanks",
};

export type ColumnsSheetProps = {
  readonly reading: ForceReading;
  readonly settings: FileSettings;
  /** Channels now in use: the settings', the rig's or the guess. */
  readonly channels: readonly ChannelSetup[];
  readonly preset: string | undefined;
  readonly onSettings: (settings: FileSettings) => void;
  readonly onPreset: () => void;
};

/** How the file is read: every guess shown, every one to be corrected, the whole to be remembered. */
export function ColumnsSheet(props: ColumnsSheetProps) {
  const { reading, settings } = props;
  const { layout } = reading;
  return (
    <section class="sheet" aria-labelledby="columns-title">
      <h2 id="columns-title">How it is read</h2>
      <p class="lead">
        {reading.rows} rows from line {layout.firstRowLine} on, {layout.columns} columns, {reading.encoding}.{" "}
        {props.preset
          ? `Read as remembered for ${props.preset}.`
          : "All of it is a guess that you can correct."}
      </p>
      <LayoutRow {...props} />
      <ScrollBox label="Columns">
        <table>
          <caption class="unseen">Columns, with what each is taken for</caption>
          <thead>
            <tr>
              <th scope="col">Column</th>
              <th scope="col">First values</th>
              <th scope="col">Is</th>
              <th scope="col">Unit</th>
              <th scope="col">Thrust reads</th>
              <th scope="col">Discharge, s</th>
              <th scope="col">u of sensitivity</th>
            </tr>
          </thead>
          <tbody>
            {reading.headers.map((header, i) => (
              <ColumnRow key={header.number} {...props} i={i} />
            ))}
          </tbody>
        </table>
      </ScrollBox>
      <div class="button-row">
        <button type="button" class="button small" onClick={props.onPreset}>
          Remember for this recorder
        </button>
        {Object.keys(settings).length > 0 && (
          <button type="button" class="button small" onClick={() => props.onSettings({})}>
            Back to the guess
          </button>
        )}
      </div>
      {layout.leading.length > 0 && (
        <details>
          <summary>The lines above the numbers</summary>
          <pre class="leading">{layout.leading.join("\n")}</pre>
        </details>
      )}
    </section>
  );
}

function LayoutRow({ reading, settings, onSettings }: ColumnsSheetProps) {
  const [stated] = reading.statedRates;
  const hasTime = (settings.roles ?? reading.roles).includes("time");
  return (
    <div class="columns-layout">
      <label>
        Between columns{" "}
        <select
          class="desk-select"
          value={settings.separator ?? reading.layout.separator}
          onChange={(event) => onSettings({ ...settings, separator: event.currentTarget.value as Separator })}
        >
          {Object.entries(separatorWords).map(([separator, words]) => (
            <option key={separator} value={separator}>
              {words}
            </option>
          ))}
        </select>
      </label>
      <label>
        Decimal mark{" "}
        <select
          class="desk-select"
          value={settings.decimal ?? reading.layout.decimal}
          onChange={(event) => onSettings({ ...settings, decimal: event.currentTarget.value as Decimal })}
        >
          <option value=".">point</option>
          <option value=",">comma</option>
        </select>
      </label>
      <QuantityField
        label="Samples each second"
        value={settings.sampleRate_Hz}
        units={fieldUnits("Hz")}
        unit="Hz"
        placeholder={
          hasTime
            ? "by the time column"
            : stated
              ? `${stated.rate_Hz}, line ${stated.line}`
              : "not stated: type it"
        }
        onValue={(sampleRate_Hz) => {
          const { sampleRate_Hz: _before, ...rest } = settings;
          onSettings(sampleRate_Hz === undefined ? rest : { ...rest, sampleRate_Hz });
        }}
      />
    </div>
  );
}

function ColumnRow(props: ColumnsSheetProps & { readonly i: number }) {
  const { reading, settings, channels, onSettings, i } = props;
  const header = reading.headers[i]!;
  const role = (settings.roles ?? reading.roles)[i]!;
  const channel = channelFor(channels, header);
  const change = (part: Partial<ChannelSetup>) => onSettings(withChannel(settings, channels, header, part));
  return (
    <tr>
      <th scope="row">
        {header.number} {header.header || header.name}
      </th>
      <td class="keep">
        {reading.sample
          .slice(0, 3)
          .map((row) => (Number.isFinite(row[i]!) ? shortNumber(row[i]!, 5) : "–"))
          .join("  ")}
      </td>
      <td>
        <select
          class="desk-select"
          aria-label={`Column ${header.number} is`}
          value={role}
          onChange={(event) =>
            onSettings(withRole(settings, reading, channels, i, event.currentTarget.value as Role))
          }
        >
          {Object.entries(roleWords).map(([one, words]) => (
            <option key={one} value={one}>
              {words}
            </option>
          ))}
        </select>
      </td>
      {channel ? (
        <ChannelCells
          channel={channel}
          header={header.unit?.symbol}
          number={header.number}
          onChange={change}
        />
      ) : (
        <td colSpan={4} class="lead">
          {header.unit?.symbol ?? ""}
        </td>
      )}
    </tr>
  );
}

function ChannelCells(props: {
  readonly channel: ChannelSetup;
  readonly header: string | undefined;
  readonly number: number;
  readonly onChange: (part: Partial<ChannelSetup>) => void;
}) {
  const { channel, onChange, number } = props;
  return (
    <>
      <td>
        <CellInput
          label={`Unit of column ${number}`}
          value={channel.unit ?? ""}
          placeholder={props.header ?? "N, lbf, 112 mV/N"}
          onText={(unit) => onChange(unit === "" ? { unit: props.header ?? "N" } : { unit })}
        />
      </td>
      <td>
        <select
          class="desk-select"
          aria-label={`Thrust reads in column ${number} as`}
          value={String(channel.sign)}
          onChange={(event) => onChange({ sign: event.currentTarget.value === "1" ? 1 : -1 })}
        >
          <option value="1">+</option>
          <option value="-1">−</option>
        </select>
      </td>
      <td>
        <CellInput
          label={`Discharge time of column ${number}, s, or fit, or none`}
          value={String(channel.dischargeTime_s)}
          placeholder="fit"
          onText={(text) => {
            const read = dischargeFrom(text);
            if (read !== undefined) onChange({ dischargeTime_s: read });
          }}
        />
      </td>
      <td>
        <CellInput
          label={`Standard uncertainty of the sensitivity of column ${number}, per cent`}
          value={shortNumber(100 * channel.sensitivityRelU, 3)}
          placeholder="1"
          onText={(text) => {
            const percent = Number(text.replace(",", "."));
            if (percent >= 0 && percent <= 100) onChange({ sensitivityRelU: percent / 100 });
          }}
        />{" "}
        %
      </td>
    </>
  );
}

/** A short text in a table cell, taken over when it is left or entered. */
function CellInput(props: {
  readonly label: string;
  readonly value: string;
  readonly placeholder: string;
  readonly onText: (text: string) => void;
}) {
  const [draft, setDraft] = useState<string>();
  const take = () => {
    if (draft !== undefined && draft !== props.value) props.onText(draft.trim());
    setDraft(undefined);
  };
  return (
    <input
      type="text"
      class="cell-input"
      aria-label={props.label}
      placeholder={props.placeholder}
      value={draft ?? props.value}
      onInput={(event) => setDraft(event.currentTarget.value)}
      onBlur={take}
      onKeyDown={(event) => event.key === "Enter" && take()}
    />
  );
}

function dischargeFrom(text: string): ChannelSetup["dischargeTime_s"] | undefined {
  const word = text.trim().toLowerCase();
  if (word === "fit" || word === "none") return word;
  const seconds = Number(word.replace(/\s*s$/, "").replace(",", "."));
  return seconds > 0 ? seconds : undefined;
}
