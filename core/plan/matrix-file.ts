import { failed, issue, ok, type Result } from "../result.ts";
import { type MatrixPlan, type TestMatrix, testMatrix } from "./test-matrix.ts";

/**
 * A planned matrix as text: the plan alone, since its seed draws the same order again. What a team keeps, hands to
 * the stand's queue and shows at the end of the term.
 */
export const matrixFormat = "fourfast-matrix";
const version = 1;

export type PlannedMatrix = {
  readonly rig: string;
  readonly synthetic: boolean;
  readonly matrix: TestMatrix;
};

/** Under which a device keeps it, and a laptop hands it out. */
export const matrixName = (rig: string): string => `matrix-${rig}.json`;

export function matrixText(rig: string, plan: MatrixPlan, synthetic = false): string {
  return `${JSON.stringify({ format: matrixFormat, version, rig, synthetic, plan }, undefined, 1)}\n`;
}

/**
 * @fails matrix-unreadable, and whatever `testMatrix` refuses
 */
export function readMatrixText(text: string): Result<PlannedMatrix> {
  const remedy = "take the file that the plan saved";
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch {
    return failed(issue("matrix-unreadable", "file", "it is not JSON", remedy));
  }
  if (!isMatrixFile(json)) {
    const detail = `it is no ${matrixFormat} of version ${version}, or a key is missing`;
    return failed(issue("matrix-unreadable", "file", detail, remedy));
  }
  const matrix = testMatrix(json.plan);
  return matrix.ok ? ok({ rig: json.rig, synthetic: json.synthetic, matrix: matrix.value }) : matrix;
}

type MatrixFile = {
  readonly format: string;
  readonly version: number;
  readonly rig: string;
  readonly synthetic: boolean;
  readonly plan: MatrixPlan;
};

const isObject = (value: unknown): value is Record<string, unknown> =>
  typeof value === "object" && value !== null;
const isListOf = (value: unknown, type: "number" | "string") =>
  Array.isArray(value) && value.every((item) => typeof item === type);

function isMatrixFile(json: unknown): json is MatrixFile {
  if (!isObject(json) || json["format"] !== matrixFormat || json["version"] !== version) return false;
  const { rig, synthetic, plan } = json;
  return (
    typeof rig === "string" &&
    typeof synthetic === "boolean" &&
    isObject(plan) &&
    isListOf(plan["water_kg"], "number") &&
    isListOf(plan["setPressure_Pa"], "number") &&
    isListOf(plan["crews"], "string") &&
    Number.isInteger(plan["replicates"]) &&
    Number.isInteger(plan["seed"])
  );
}
