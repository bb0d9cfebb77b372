import type { ComponentChildren } from "preact";
import { useId } from "preact/hooks";

type Props = {
  readonly label: string;
  readonly unit: string;
  readonly value: string;
  readonly last: boolean;
  readonly onInput: (typed: string) => void;
  /** Enter on the last of several; it leaves the keyboard first, so that all of the screen is seen. */
  readonly onDone?: (key: KeyboardEvent) => void;
};

/** A number as it is read off an instrument: kept to the letter, never rounded, nothing filled in beforehand. */
export function ReadingField({ label, unit, value, last, onInput, onDone }: Props) {
  const id = useId();
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <div class="field-box">
        <input
          id={id}
          type="text"
          inputMode="decimal"
          autocomplete="off"
          enterkeyhint={last ? "done" : "next"}
          maxLength={12}
          value={value}
          onInput={(event) => onInput(event.currentTarget.value)}
          onKeyDown={(event) => {
            if (event.key !== "Enter") return;
            goOn(event.currentTarget, last);
            if (last) onDone?.(event);
          }}
        />
        <span class="field-unit">{unit}</span>
      </div>
    </div>
  );
}

type CodeProps = {
  readonly label: ComponentChildren;
  readonly value: string;
  readonly last: boolean;
  readonly onInput: (code: string) => void;
  /** Enter on the last one: a code needs no second look, it is right or it is not. */
  readonly onDone?: (key: KeyboardEvent) => void;
};

/** A person's own short code: typed by that person each time, never offered, never remembered by the browser. */
export function CodeField({ label, value, last, onInput, onDone }: CodeProps) {
  const id = useId();
  return (
    <div class="field">
      <label for={id}>{label}</label>
      <input
        id={id}
        type="text"
        autocomplete="off"
        autocapitalize="characters"
        spellcheck={false}
        enterkeyhint={last ? "done" : "next"}
        maxLength={8}
        value={value}
        onInput={({ currentTarget }) => {
          // Written back at once: a letter that leaves the code as it was would else stand in the field.
          currentTarget.value = codeFrom(currentTarget.value);
          onInput(currentTarget.value);
        }}
        onKeyDown={(event) => {
          if (event.key !== "Enter") return;
          goOn(event.currentTarget, last);
          if (last) onDone?.(event);
        }}
      />
    </div>
  );
}

/** Capitals and digits only, so that the same person is the same word in every entry. */
export const codeFrom = (typed: string): string => typed.toUpperCase().replace(/[^A-Z0-9]/g, "");

function goOn(field: HTMLInputElement, last: boolean): void {
  const form = field.closest("form");
  const fields = [...(form?.querySelectorAll("input") ?? [])];
  const next = fields[fields.indexOf(field) + 1];
  if (!last && next) next.focus();
  else field.blur();
}
