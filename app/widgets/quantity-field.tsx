import { useId, useState } from "preact/hooks";
import type { Issue } from "../../core/result.ts";
import { unitNamed } from "../../core/units/units.ts";
import { shortNumber } from "../../core/units/value-text.ts";

/** A unit as a field offers it: what turns a typed number into SI. */
export type FieldUnit = { readonly symbol: string; readonly toSI: number };

/** The units of a field by their spelling; a temperature and a bare number scale by one. */
export const fieldUnits = (...symbols: readonly string[]): readonly FieldUnit[] =>
  symbols.map((symbol) => ({ symbol, toSI: unitNamed(symbol)?.toSI ?? 1 }));

export type QuantityFieldProps = {
  readonly label: string;
  /** In SI; undefined where nothing is typed. */
  readonly value: number | undefined;
  readonly units: readonly FieldUnit[];
  /** Symbol of the unit now chosen. */
  readonly unit: string;
  readonly onUnit?: (symbol: string) => void;
  /** `undefined` where the field was emptied; not called while the text is no number. */
  readonly onValue: (value: number | undefined) => void;
  readonly issues?: readonly Issue[];
  readonly hint?: string;
  readonly placeholder?: string;
};

const digitsShown = 6;
const plain = /^[+-]?\d*(?:[.,]\d*)?$/;

/** Reads what a person types: a point or a comma, nothing else that a slip can make. */
export function typedNumber(text: string): number | "empty" | "no-number" {
  const bare = text.trim().replace("−", "-");
  if (bare === "") return "empty";
  if (!plain.test(bare) || !/\d/.test(bare)) return "no-number";
  return Number(bare.replace(",", "."));
}

/** A number in the reader's own unit, with what is wrong with it beside it. What is typed stays as typed. */
export function QuantityField(props: QuantityFieldProps) {
  const id = useId();
  const [draft, setDraft] = useState<string>();
  const unit = props.units.find(({ symbol }) => symbol === props.unit) ?? props.units[0]!;
  const asNumber = draft === undefined ? undefined : typedNumber(draft);
  const shown =
    draft ??
    (props.value === undefined ? "" : shortNumber(props.value / unit.toSI, digitsShown).replace("−", "-"));
  const faults = [
    ...(asNumber === "no-number" ? [`"${draft}" is no number: type digits, with a point or a comma.`] : []),
    ...(props.issues ?? []).map(({ detail, remedy }) => `${sentence(detail)} ${sentence(remedy)}`),
  ];
  const type = (text: string) => {
    setDraft(text);
    const read = typedNumber(text);
    if (read === "empty") props.onValue(undefined);
    else if (read !== "no-number") props.onValue(read * unit.toSI);
  };
  const described = [props.hint && `${id}-hint`, faults.length > 0 && `${id}-fault`]
    .filter(Boolean)
    .join(" ");

  return (
    <div class="quantity" data-faulty={faults.length > 0}>
      <label for={id}>{props.label}</label>
      <div class="quantity-box">
        <input
          id={id}
          type="text"
          inputMode="decimal"
          autocomplete="off"
          value={shown}
          placeholder={props.placeholder}
          aria-invalid={faults.length > 0}
          {...(described && { "aria-describedby": described })}
          onInput={(event) => type(event.currentTarget.value)}
          onBlur={() => asNumber !== "no-number" && setDraft(undefined)}
        />
        <UnitChoice label={props.label} units={props.units} unit={unit.symbol} onUnit={props.onUnit} />
      </div>
      {props.hint && (
        <p id={`${id}-hint`} class="quantity-hint">
          {props.hint}
        </p>
      )}
      {faults.length > 0 && (
        <p id={`${id}-fault`} class="quantity-fault" role="status">
          {faults.join(" ")}
        </p>
      )}
    </div>
  );
}

function UnitChoice(props: {
  readonly label: string;
  readonly units: readonly FieldUnit[];
  readonly unit: string;
  readonly onUnit: ((symbol: string) => void) | undefined;
}) {
  const { onUnit } = props;
  if (props.units.length < 2 || onUnit === undefined) return <span class="quantity-unit">{props.unit}</span>;
  return (
    <select
      class="quantity-unit"
      aria-label={`Unit of ${props.label}`}
      value={props.unit}
      onChange={(event) => onUnit(event.currentTarget.value)}
    >
      {props.units.map(({ symbol }) => (
        <option key={symbol} value={symbol}>
          {symbol}
        </option>
      ))}
    </select>
  );
}

/** Details of issues begin small and end open, so that they can stand inside a sentence. */
export const sentence = (text: string) =>
  text === "" ? "" : `${text[0]!.toUpperCase()}${text.slice(1)}${/[.!?]$/.test(text) ? "" : "."}`;
