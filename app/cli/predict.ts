import { parseSetup } from "../../core/exchange/setup.ts";
import { predict } from "../../core/propulsion/prediction.ts";
import { predictionBudget } from "../../core/propulsion/prediction-budget.ts";
import { predictionTable } from "./predict-table.ts";
import { readJsonFile } from "./read-json.ts";
import type { ExitCode, Io } from "./verb.ts";

export const predictHelp = `Says what a shot will give, from the conditions in a setup file.

  fourfast predict --setup S.json [--json]

  --setup FILE   the conditions, as JSON; "-" reads standard input
  --json         one JSON object on standard output instead of the table
  --help         this text

Smallest S.json (SI units; the set pressure is above the surroundings):

  {"water_kg": 0.6, "setPressure_Pa": 300000, "bottleVolume_m3": 0.0015, "openingDiameter_m": 0.0217}

It may also hold: bottleDiameter_m (then head of water and area ratio count), neckLength_m,
neckDiameter_m, ambientPressure_Pa, waterDensity_kg_m3 or waterTemperature_C, airTemperature_C,
polytropicExponent (1 to 1.4), contraction, velocityCoefficient, headOfWater, gravity_m_s2,
ridingMass_kg (then also what flies if nothing holds). What is left out is assumed and listed.

Examples

  fourfast predict --setup heron.json
  fourfast predict --setup heron.json --json > prediction.json
  echo '{"water_kg": 0.7, "setPressure_Pa": 3e5, "bottleVolume_m3": 0.0015,
         "openingDiameter_m": 0.0217, "polytropicExponent": 1.25}' | fourfast predict --setup -

Exit code: 0 fine, 1 the setup is at fault (every issue is listed), 2 wrong usage.
`;

/**
 * `fourfast predict`: reads the setup, prints the prediction.
 * @param args  what follows the verb
 */
export async function predictVerb(args: readonly string[], io: Io): Promise<ExitCode> {
  const usage = readArguments(args);
  if (typeof usage === "string") {
    io.err(`${usage}\n\n${predictHelp}`);
    return 2;
  }
  const json = await readJsonFile(usage.setupPath, io);
  const parsed = json.ok ? parseSetup(json.value, "predict") : json;
  const result = parsed.ok ? predict(parsed.value.setup) : parsed;
  if (!parsed.ok || !result.ok) {
    const issues = result.ok ? [] : result.issues;
    if (usage.json) io.out(`${JSON.stringify({ issues }, null, 2)}\n`);
    for (const one of issues) io.err(`${one.code} at ${one.where}: ${one.detail}; ${one.remedy}\n`);
    return 1;
  }
  const { setup, assumed } = parsed.value;
  if (usage.json) io.out(`${JSON.stringify({ ...result.value, assumed }, null, 2)}\n`);
  else io.out(predictionTable(result.value, predictionBudget(setup).rows, assumed));
  return 0;
}

function readArguments(args: readonly string[]): { setupPath: string; json: boolean } | string {
  let setupPath: string | undefined;
  let json = false;
  for (let i = 0; i < args.length; i++) {
    const arg = args[i]!;
    if (arg === "--json") json = true;
    else if (arg === "--setup" || arg.startsWith("--setup=")) {
      if (setupPath !== undefined) return "--setup is given twice";
      setupPath = arg === "--setup" ? args[++i] : arg.slice("--setup=".length);
      if (setupPath === undefined || setupPath === "") return "--setup needs a file";
    } else return `predict does not know ${JSON.stringify(arg)}`;
  }
  return setupPath === undefined ? "predict needs --setup FILE" : { setupPath, json };
}
