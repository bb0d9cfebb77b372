import { useState } from "preact/hooks";
import type { Band, Quantity, Step, StepForm } from "../../core/procedure/procedure.ts";
import type { Reading } from "../../core/record/reading.ts";
import { readingValue } from "../../core/record/reading-value.ts";
import { issueWords } from "../text.ts";
import { Button } from "../widgets/button.tsx";
import { GaugeDial } from "../widgets/gauge-dial.tsx";
import { ReadingField } from "../widgets/reading-field.tsx";
import { done } from "./done.ts";
import { ReadPage, SkipButton, StepFrame } from "./step-frame.tsx";
import type { Turn } from "./turn.ts";

type Form = Extract<StepForm, { kind: "measure" }>;
type Props = {
  readonly turn: Turn;
  readonly step: Step;
  readonly form: Form;
  readonly caught?: string | undefined;
};

type Way = "single" | "difference" | "volume";

/** A number off an instrument: typed, looked at once more beside its band, then written down. */
export function MeasureScreen({ turn, step, form, caught }: Props) {
  const water = form.quantity === "water";
  const [way, setWay] = useState<Way>(water ? (form.unit in POURED ? "volume" : "difference") : "single");
  const [typed, setTyped] = useState<readonly string[]>(["", ""]);
  const type = (at: number) => (text: string) => setTyped(typed.map((old, i) => (i === at ? text : old)));
  const reading = readingOf(way, form, typed);
  const fields = FIELDS[way](form);
  const gauge = turn.view.rig.gauges.find(({ id }) => id === form.instrument);
  const name = way === "volume" ? "Graduated vessel" : (gauge?.name ?? sentenceCase(form.instrument));
  if (turn.paged && turn.page === "") return <ReadPage turn={turn} step={step} caught={caught} />;
  const full = fields.every((_, at) => typed[at] !== "");
  const value = readingValue(reading, form.quantity);
  const write = (input: Event) => void turn.say(done(turn, step, { reading }), input);
  // Outside its band a number is looked at once more: the keyboard alone does not write it down.
  const enter = (key: Event) => full && value.ok && isInside(value.value, form.band) && write(key);
  return (
    <>
      <StepFrame turn={turn} step={step} caught={caught} brief={turn.page === "answer"} />
      <form class="reading" onSubmit={(event) => event.preventDefault()}>
        <p class="instrument">
          <b>{name}</b> <span class="place">{gauge?.place}</span>
        </p>
        <div class="reading-row">
          {gauge && <GaugeDial gauge={gauge} typed={typed[0] ?? ""} />}
          <div class={`reading-fields of-${fields.length}`}>
            {fields.map(({ label, unit }, at) => (
              <ReadingField
                key={`${way} ${label}`}
                label={label}
                unit={unit}
                value={typed[at] ?? ""}
                last={at === fields.length - 1}
                onInput={type(at)}
                onDone={enter}
              />
            ))}
          </div>
        </div>
        <Judged form={form} reading={full ? reading : undefined} />
      </form>
      <div class="answer-row">
        {step.skippable && <SkipButton turn={turn} step={step} />}
        {water && (
          <Button
            onPress={() => {
              setWay(way === "volume" ? "difference" : "volume");
              setTyped(["", ""]);
            }}
          >
            {way === "volume" ? "By weight" : "By vessel"}
          </Button>
        )}
        <Button look="go" critical disabled={!full || !value.ok} onPress={write}>
          Write it down
        </Button>
      </div>
    </>
  );
}

/** A vessel's marks, and what so much water weighs to within its temperature; weighed all the same, it is in that unit. */
const POURED: Readonly<Record<string, string>> = {
  mL: "g",
  L: "kg",
};
const weighedIn = (unit: string): string => POURED[unit] ?? unit;

type Field = { readonly label: string; readonly unit: string };

const FIELDS: Record<Way, (form: Form) => readonly Field[]> = {
  single: ({ unit }) => [{ label: "It reads", unit }],
  difference: ({ unit }) => [
    { label: "With the water", unit: weighedIn(unit) },
    { label: "Without it", unit: weighedIn(unit) },
  ],
  volume: () => [
    { label: "Volume", unit: "mL" },
    { label: "Water is at", unit: "°C" },
  ],
};

const readingOf = (way: Way, form: Form, [first = "", second = ""]: readonly string[]): Reading => {
  const { unit, instrument } = form;
  switch (way) {
    case "single":
      return { kind: "single", typed: first, unit, instrument };
    case "difference":
      return { kind: "difference", gross: first, tare: second, unit: weighedIn(unit), instrument };
    case "volume":
      return {
        kind: "volume",
        typed: first,
        unit: "mL",
        temperature: second,
        temperatureUnit: "°C",
        instrument: "graduated vessel",
      };
  }
};

/** Beside the number, its band: a slip of the point is seen before it is written down, and may be written all the same. */
function Judged({ form, reading }: { readonly form: Form; readonly reading: Reading | undefined }) {
  if (!reading) return <p class="judged">Band: {bandWords(form)}</p>;
  const value = readingValue(reading, form.quantity);
  if (!value.ok) {
    const { what, todo } = issueWords(value.issues[0]!);
    return (
      <p class="judged bad">
        {what} {todo}
      </p>
    );
  }
  const inside = isInside(value.value, form.band);
  const shown = reading.kind === "single" ? "" : `${inUnit(value.value, form)} ${form.unit}: `;
  return (
    <p class={inside ? "judged good" : "judged bad"} role="status">
      {shown}
      <b>{inside ? "inside" : "OUTSIDE"}</b> {bandWords(form)}
    </p>
  );
}

const isInside = (value: number, { min, max }: Band): boolean =>
  (min === undefined || value >= min) && (max === undefined || value <= max);

/** One of a unit in SI, by the same table that reads what is typed; poured water stands for its mass. */
const perUnit = ({ unit, quantity }: { readonly unit: string; readonly quantity: Quantity }): number => {
  const one = readingValue({ kind: "single", typed: "1", unit: weighedIn(unit), instrument: "" }, quantity);
  return one.ok ? one.value : 1;
};

const inUnit = (value: number, form: Form): string => String(Number((value / perUnit(form)).toPrecision(4)));

export const bandWords = (form: Form): string => {
  const { min, max } = form.band;
  if (min === undefined && max === undefined) return "any";
  if (min === undefined) return `at most ${inUnit(max!, form)} ${form.unit}`;
  if (max === undefined) return `at least ${inUnit(min, form)} ${form.unit}`;
  return `${inUnit(min, form)} to ${inUnit(max, form)} ${form.unit}`;
};

const sentenceCase = (words: string): string => words.slice(0, 1).toUpperCase() + words.slice(1);
