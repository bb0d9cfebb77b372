import { useState } from "preact/hooks";
import type { Issue } from "../../core/result.ts";
import { fieldUnits, QuantityField } from "../widgets/quantity-field.tsx";

type Field = {
  readonly key: string;
  readonly label: string;
  readonly units: readonly string[];
  readonly empty?: string;
};

/** The keys of S.json that a reduction needs first. */
const fields: readonly Field[] = [
  { key: "water_kg", label: "Water", units: ["g", "kg"] },
  { key: "setPressure_Pa", label: "Pressure at release, gauge", units: ["bar", "psi", "kPa"] },
  { key: "bottleVolume_m3", label: "Bottle's capacity", units: ["mL", "L"] },
  { key: "openingDiameter_m", label: "Opening", units: ["mm", "in"] },
  { key: "bottleDiameter_m", label: "Bottle's inside diameter", units: ["mm", "in"], empty: "head left out" },
  { key: "neckLength_m", label: "Neck length", units: ["mm", "in"], empty: "none" },
  { key: "ambientPressure_Pa", label: "Surroundings", units: ["hPa", "kPa"], empty: "1013.25 hPa" },
  { key: "waterTemperature_C", label: "Water temperature", units: ["°C"], empty: "20 °C" },
];

type Conditions = Readonly<Record<string, number>>;

/** For a record that came without its run file: the conditions as somebody wrote them down. */
export function ConditionsSheet(props: {
  readonly conditions: Conditions;
  readonly issues: readonly Issue[];
  readonly onConditions: (conditions: Conditions) => void;
}) {
  const [draft, setDraft] = useState<Conditions>(props.conditions);
  const [units, setUnits] = useState<Readonly<Record<string, string>>>({});
  const set = (key: string, value: number | undefined) => {
    const { [key]: _before, ...rest } = draft;
    setDraft(value === undefined ? rest : { ...rest, [key]: value });
  };
  return (
    <section class="sheet no-print" aria-labelledby="conditions-title">
      <h2 id="conditions-title">Conditions by hand</h2>
      <p class="lead">
        A run file carries these with who measured them and when. Without one, type them here; the result will
        say so.
      </p>
      <form
        class="conditions-form"
        onSubmit={(event) => {
          event.preventDefault();
          props.onConditions(draft);
        }}
      >
        {fields.map(({ key, label, units: symbols, empty }) => (
          <QuantityField
            key={key}
            label={label}
            value={draft[key]}
            units={fieldUnits(...symbols)}
            unit={units[key] ?? symbols[0]!}
            onUnit={(symbol) => setUnits({ ...units, [key]: symbol })}
            onValue={(value) => set(key, value)}
            issues={
              Object.keys(props.conditions).length > 0
                ? props.issues.filter(({ where }) => where === key)
                : []
            }
            {...(empty !== undefined && { placeholder: empty })}
          />
        ))}
        <div class="button-row">
          <button type="submit" class="button go">
            Reduce by these
          </button>
        </div>
      </form>
    </section>
  );
}
