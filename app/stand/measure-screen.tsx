import { useState } from "preact/hooks";
import type { Band, Step } from "../../core/procedure/procedure.ts";
import type { Reading } from "../../core/record/reading.ts";
import { isVolumeUnit, readingValue } from "../../core/record/reading-value.ts";
import { issueWords } from "../text.ts";
import { bandWords, inUnit, type Measure, massUnitOf, vesselBandWords } from "../widgets/band-words.ts";
import { Button } from "../widgets/button.tsx";
import { GaugeDial } from "../widgets/gauge-dial.tsx";
import { ReadingField } from "../widgets/reading-field.tsx";
import { done } from "./done.ts";
import { ReadPage, SkipButton, StepFrame } from "./step-frame.tsx";
import type { Turn } from "./turn.ts";

type Props = {
  readonly turn: Turn;
  readonly step: Step;
  readonly form: Measure;
  readonly caught?: string | undefined;
};

type Way = "single" | "difference" | "volume";

/** A number off an instrument: typed, looked at once more beside its band, then written down. */
export function MeasureScreen({ turn, step, form, caught }: Props) {
  const water = form.quantity === "water";
  const [way, setWay] = useState<Way>(water ? ownWayOf(form) : "single");
  const [typed, setTyped] = useState<readonly string[]>(["", ""]);
  const type = (at: number) => (text: string) => setTyped(typed.map((old, i) => (i === at ? text : old)));
  const reading = readingOf(way, form, typed);
  const fields = FIELDS[way](form);
  const gauge = turn.view.rig.gauges.find(({ id }) => id === form.instrument);
  const name = gauge?.name ?? sentenceCase(reading.instrument);
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
        <Judged form={form} reading={reading} full={full} />
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

const ownWayOf = ({ unit }: Measure): Way => (isVolumeUnit(unit) ? "volume" : "difference");
const vesselUnitOf = ({ unit }: Measure): string => (isVolumeUnit(unit) ? unit : "mL");

/** The step's own instrument; had in the other way, the water is on one that the step does not name. */
const instrumentOf = (way: Way, form: Measure): string => {
  if (way === "single" || way === ownWayOf(form)) return form.instrument;
  return way === "volume" ? "graduated vessel" : "scale";
};

type Field = { readonly label: string; readonly unit: string };

const FIELDS: Record<Way, (form: Measure) => readonly Field[]> = {
  single: ({ unit }) => [{ label: "It reads", unit }],
  difference: ({ unit }) => [
    { label: "With water", unit: massUnitOf(unit) },
    { label: "Without it", unit: massUnitOf(unit) },
  ],
  volume: (form) => [
    { label: "Volume", unit: vesselUnitOf(form) },
    { label: "Water is at", unit: "°C" },
  ],
};

const readingOf = (way: Way, form: Measure, [first = "", second = ""]: readonly string[]): Reading => {
  const { unit } = form;
  const instrument = instrumentOf(way, form);
  switch (way) {
    case "single":
      return { kind: "single", typed: first, unit, instrument };
    case "difference":
      return { kind: "difference", gross: first, tare: second, unit: massUnitOf(unit), instrument };
    case "volume":
      return {
        kind: "volume",
        typed: first,
        unit: vesselUnitOf(form),
        temperature: second,
        temperatureUnit: "°C",
        instrument,
      };
  }
};

type JudgedProps = { readonly form: Measure; readonly reading: Reading; readonly full: boolean };

/** Beside the number, its band: a slip of the point is seen before it is written down, and may be written all the same. */
function Judged({ form, reading, full }: JudgedProps) {
  const band = `${bandWords(form)}${onVessel(form, reading)}`;
  if (!full) return <p class="judged">Band: {band}</p>;
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
  return (
    <p class={inside ? "judged good" : "judged bad"} role="status">
      {reading.kind === "single" ? "" : `${inUnit(value.value, form)}: `}
      <b>{inside ? "inside" : "OUTSIDE"}</b> {band}
    </p>
  );
}

/** What the vessel's own marks would show, once it is known how warm the water is. */
const onVessel = ({ band }: Measure, reading: Reading): string => {
  if (reading.kind !== "volume") return "";
  const marks = vesselBandWords(band, reading.unit, reading.temperature);
  return marks === undefined ? "" : ` (${marks})`;
};

const isInside = (value: number, { min, max }: Band): boolean =>
  (min === undefined || value >= min) && (max === undefined || value <= max);

const sentenceCase = (words: string): string => words.slice(0, 1).toUpperCase() + words.slice(1);
