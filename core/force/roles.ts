import { type ColumnHeader, isCountName, isSumName, isTimeName, type Role } from "./columns.ts";

const otherName =
  /pressure|druck|trigger|temp|volt|mean|average|avg|mittel|displacement|event|flag|status|date|datum/i;
const rowsLooked = 2000;

/** A guess of what each column holds, from its name, its unit and its numbers. */
export function guessRoles(
  headers: readonly ColumnHeader[],
  columns: readonly Float64Array[],
  textCells: readonly number[],
): Role[] {
  const rows = columns[0]!.length;
  const look = columns.map((column) => strided(column));
  const roles = headers.map((header, i): Role => {
    const quantity = header.unit?.quantity;
    if (textCells[i]! > rows / 2) return "words";
    if (!look[i]!.some((x) => Number.isFinite(x))) return "other";
    if (isCountName(header) && countsUp(columns[i]!)) return "count";
    if (isTimeName(header) && quantity !== "force") return "time";
    if (quantity === "force" || quantity === "charge" || quantity === "voltage") return "force";
    return quantity !== undefined || otherName.test(header.name) ? "other" : "force";
  });
  // Only one column can be the time: the first that runs evenly, named or not.
  const named = roles.findIndex((role, i) => role === "time" && rises(look[i]!));
  const bare = roles.findIndex(
    (role, i) => role === "force" && headers[i]!.unit === undefined && runsEvenly(columns[i]!),
  );
  const time = named >= 0 ? named : bare;
  for (const [i, role] of roles.entries()) if (role === "time" && i !== time) roles[i] = "other";
  if (time >= 0) roles[time] = countsUp(columns[time]!) && named < 0 ? "count" : "time";

  for (const [i, header] of headers.entries()) {
    if (roles[i] !== "force") continue;
    const others = look.filter((_, k) => k !== i && roles[k] === "force");
    if (
      others.length >= 2
        ? isSumName(header) || isSumOf(look[i]!, others)
        : isSumName(header) && others.length > 0
    ) {
      roles[i] = "sum";
    }
  }
  return roles;
}

function strided(column: Float64Array): number[] {
  const step = Math.max(1, Math.floor(column.length / rowsLooked));
  const out: number[] = [];
  for (let i = 0; i < column.length; i += step) out.push(column[i]!);
  return out;
}

function rises(look: readonly number[]): boolean {
  let up = 0;
  let steps = 0;
  for (let i = 1; i < look.length; i++) {
    if (!Number.isFinite(look[i]! - look[i - 1]!)) continue;
    steps++;
    if (look[i]! >= look[i - 1]!) up++;
  }
  return steps > 0 && up >= 0.9 * steps;
}

/** Nine of ten steps between neighbours alike and upward: a clock, not a force. */
function runsEvenly(column: Float64Array): boolean {
  const n = Math.min(column.length - 1, rowsLooked);
  const steps = Array.from({ length: n }, (_, i) => column[i + 1]! - column[i]!).sort((a, b) => a - b);
  const middle = steps[n >> 1]!;
  if (!(middle > 0)) return false;
  return steps.filter((step) => Math.abs(step - middle) < 0.3 * middle).length >= 0.9 * n;
}

function countsUp(column: Float64Array): boolean {
  const n = Math.min(column.length - 1, rowsLooked);
  let ones = 0;
  for (let i = 0; i < n; i++) if (column[i + 1]! - column[i]! === 1) ones++;
  return Number.isInteger(column[0]!) && ones >= 0.9 * n;
}

/** Equal to the sum of the others to what rounding in print can do, in all but a few rows. */
function isSumOf(sum: readonly number[], parts: readonly (readonly number[])[]): boolean {
  const all = [sum, ...parts];
  const rounding = all.reduce((total, column) => total + printedStep(column), 0) / 2;
  let seen = 0;
  let equal = 0;
  let least = Number.POSITIVE_INFINITY;
  let greatest = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < sum.length; i++) {
    const total = parts.reduce((a, part) => a + part[i]!, 0);
    if (!Number.isFinite(sum[i]! - total)) continue;
    seen++;
    least = Math.min(least, sum[i]!);
    greatest = Math.max(greatest, sum[i]!);
    if (Math.abs(sum[i]! - total) <= 1.01 * rounding + 1e-9 * Math.abs(total)) equal++;
  }
  // A column that hardly moves equals anything that hardly moves.
  return seen > 10 && equal >= 0.95 * seen && greatest - least > 20 * rounding;
}

/** One in the last decimal that the column uses; none where it is written with many digits or powers. */
function printedStep(column: readonly number[]): number {
  for (let decimals = 0; decimals <= 6; decimals++) {
    const scale = 10 ** decimals;
    if (column.every((x) => !Number.isFinite(x) || Math.abs(x * scale - Math.round(x * scale)) < 1e-4))
      return 1 / scale;
  }
  return 0;
}
