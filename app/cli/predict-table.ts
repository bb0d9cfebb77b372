import type { Prediction } from "../../core/propulsion/prediction.ts";
import type { BudgetRow } from "../../core/propulsion/prediction-budget.ts";
import { pneumaticTestEdition } from "../../core/propulsion/stored-energy.ts";

type Row = readonly [label: string, value: number, unit: string];
type Block = readonly [title: string, rows: readonly Row[]];

/** A prediction for a person: grams and milliseconds, four digits, what was assumed at the end. */
export function predictionTable(
  prediction: Prediction,
  budget: readonly BudgetRow[],
  assumed: Readonly<Record<string, unknown>>,
): string {
  const blocks = [
    impulseBlock(prediction),
    ...phaseBlocks(prediction),
    ...storedBlocks(prediction),
    ...throwBlocks(prediction),
    budgetBlock(budget),
  ];
  const printed = blocks.map(([title, rows]) => [title, ...rows.map(line)].join("\n"));
  const assumptions = Object.entries(assumed).map(
    ([key, value]) => `  ${key.padEnd(width)}${JSON.stringify(value)}`,
  );
  if (assumptions.length > 0)
    printed.push(["assumed, being left out of the setup", ...assumptions].join("\n"));
  return `${printed.join("\n\n")}\n`;
}

function impulseBlock({ impulse_Ns, specificImpulse_s, u }: Prediction): Block {
  const title = `total impulse ${number(impulse_Ns)} ± ${u.impulse_Ns.toPrecision(2)} N s (k = 1)`;
  return [title, specificImpulse_s === null ? [] : [["specific impulse", specificImpulse_s, "s"]]];
}

function phaseBlocks({ water, air }: Prediction): readonly Block[] {
  return [
    [
      "water phase",
      [
        ["impulse", water.impulse_Ns, "N s"],
        ["duration", water.duration_s * 1e3, "ms"],
        ["thrust at its start, no spike", water.thrustStart_N, "N"],
        ["thrust at its end", water.thrustEnd_N, "N"],
        ["water expelled", water.expelled_kg * 1e3, "g"],
        ["water left, the air being spent", water.left_kg * 1e3, "g"],
        ["energy of the jet", water.jetEnergy_J, "J"],
      ],
    ],
    [
      air.choked ? "air phase, choked at its start" : "air phase",
      [
        ["impulse", air.impulse_Ns, "N s"],
        ["duration", air.duration_s * 1e3, "ms"],
      ],
    ],
  ];
}

function storedBlocks({ energy, distance }: Prediction): readonly Block[] {
  return [
    [
      "energy of the air",
      [
        ["work on the water", energy.workOnWater_J, "J"],
        ["available, isentropic", energy.isentropicAvailable_J, "J"],
        ["available, isothermal", energy.isothermalAvailable_J, "J"],
        [`stored, ${pneumaticTestEdition}`, energy.pcc2_J, "J"],
      ],
    ],
    [
      `distance, ${pneumaticTestEdition}: an estimate, blast only; the site's rules come first`,
      [
        ["distance", distance.pcc2_m, "m"],
        ["TNT of the same energy", distance.tnt_kg * 1e6, "mg"],
      ],
    ],
  ];
}

function throwBlocks({ throw: thrown }: Prediction): readonly Block[] {
  if (thrown === undefined) return [];
  const rows: readonly Row[] = [
    ["speed at the end of thrust", thrown.speed_m_s, "m/s"],
    ["height, expected", thrown.height_m, "m"],
    ["height, bound by impulse", thrown.heightBound_m, "m"],
    ["range, bound by impulse", thrown.rangeBound_m, "m"],
  ];
  return [["thrown if nothing holds: an estimate, no drag", rows]];
}

function budgetBlock(budget: readonly BudgetRow[]): Block {
  const rows = budget.map((row): Row => [`${row.quantity} ± ${number(row.u)}`, row.contribution_Ns, "N s"]);
  return ["what the impulse's uncertainty is made of, k = 1", rows];
}

const width = 46;

const line = ([label, value, unit]: Row) => `  ${label.padEnd(width)}${number(value).padStart(10)} ${unit}`;

/** Four digits, without powers of ten where a plain number does. */
function number(value: number): string {
  const text = value.toPrecision(4);
  return text.includes("e") ? String(Number(text)) : text;
}
