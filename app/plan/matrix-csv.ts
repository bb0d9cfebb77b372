import type { MatrixProgress, TestMatrix } from "../../core/plan/test-matrix.ts";

/** The matrix as a table for other programs: SI, names as everywhere else. */
export function matrixCsv(matrix: TestMatrix, progress: MatrixProgress | undefined): string {
  const done = new Map(progress?.done.map(({ slot, code }) => [slot.order, code]));
  const rows = matrix.slots.map(({ order, crew, block, water_kg, setPressure_Pa }) =>
    [order, asText(crew), block, water_kg, setPressure_Pa, asText(done.get(order) ?? "")].join(","),
  );
  return `${["order,crew,block,water_kg,setPressure_Pa,run", ...rows].join("\r\n")}\r\n`;
}

/** A cell that a table program could take for a formula is kept a text; quotes are doubled. */
function asText(cell: string): string {
  const safe = /^[=+\-@\t\r]/.test(cell) ? `'${cell}` : cell;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
