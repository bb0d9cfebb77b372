import { useMemo } from "preact/hooks";
import type { Issue } from "../../core/result.ts";
import { QuantityField } from "../widgets/quantity-field.tsx";
import { type UnitChoice, type UnitKind, unitsOf } from "../widgets/unit-choice.ts";
import { type PlanField, type PlanGroup, planGroups } from "./plan-fields.ts";
import { type PlanKey, type PlanNumbers, planDensity_kg_m3 } from "./plan-numbers.ts";

export type PlanFormProps = {
  readonly numbers: PlanNumbers;
  readonly units: UnitChoice;
  readonly issues: readonly Issue[];
  readonly piped: boolean;
  readonly onNumber: (key: PlanKey, value: number | undefined) => void;
  readonly onUnit: (kind: UnitKind, symbol: string) => void;
};

export function PlanForm(props: PlanFormProps) {
  const groups = planGroups.filter(({ title }) => !(title === "Supply" && props.piped));
  return (
    <form class="plan-form" onSubmit={(event) => event.preventDefault()}>
      {groups.map((group) => (
        <Group key={group.title} group={group} {...props} />
      ))}
    </form>
  );
}

/** A group with a fault in it opens by itself: what is wrong is never folded away. */
function Group({ group, ...props }: PlanFormProps & { readonly group: PlanGroup }) {
  const faulty = props.issues.some(({ where }) => group.fields.some(({ key }) => key === where));
  return (
    <details class="plan-group" open={group.open || faulty}>
      <summary>
        <h2>{group.title}</h2>
      </summary>
      <div class="plan-fields">
        {group.fields.map((field) => (
          <Field key={field.key} field={field} {...props} />
        ))}
      </div>
    </details>
  );
}

/** Made again only when something in it has changed: a slider moves one field, not the whole form. */
function Field({ field, ...props }: PlanFormProps & { readonly field: PlanField }) {
  const { key, label, kind, hint, empty } = field;
  const { numbers, units, onNumber, onUnit } = props;
  const density_kg_m3 = planDensity_kg_m3(numbers);
  const issues = props.issues.filter(({ where }) => where === key);
  const told = JSON.stringify(issues);
  return useMemo(
    () => (
      <QuantityField
        label={label}
        value={numbers[key]}
        units={unitsOf(kind, density_kg_m3)}
        unit={units[kind]}
        onUnit={(symbol) => onUnit(kind, symbol)}
        onValue={(value) => onNumber(key, value)}
        issues={issues}
        {...(hint !== undefined && { hint })}
        {...(empty !== undefined && { placeholder: empty })}
      />
    ),
    [numbers[key], units[kind], density_kg_m3, told, field],
  );
}
