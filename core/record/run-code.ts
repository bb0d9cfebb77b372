import { failed, issue, ok, type Result } from "../result.ts";

/**
 * A run's short name, spoken across a field and typed into the recorder: the stand's letter, the
 * day of the year, a number. H-329-04 is stand H's fourth run on day 329. A stand's second phone
 * counts from 201, its third from 301, so that two phones that cannot see each other never agree
 * on a code. The log's own id tells apart what years and mistakes make alike.
 */
export type RunCode = { readonly letter: string; readonly day: number; readonly number: number };

const RUNS_A_PHONE = 99;
const PHONES = 9;

export const runCodeText = ({ letter, day, number }: RunCode): string =>
  `${letter}-${String(day).padStart(3, "0")}-${String(number).padStart(2, "0")}`;

const CODE = /^\s*([A-Z])[\s-]*(\d{3})[\s-]+(\d{2,3})\s*$/i;
/** Run together, as it is typed into a file name. */
const CODE_TOGETHER = /^\s*([A-Z])(\d{3})(\d{2,3})\s*$/i;

/**
 * Reads a code as people type it: any case, spaces or hyphens, or run together.
 * @fails run-code-unreadable
 */
export const readRunCode = (typed: string): Result<RunCode> => {
  const [, letter, day, number] = CODE.exec(typed) ?? CODE_TOGETHER.exec(typed) ?? [];
  const code = { letter: (letter ?? "").toUpperCase(), day: Number(day), number: Number(number) };
  if (letter !== undefined && code.day >= 1 && code.day <= 366 && code.number % 100 !== 0) return ok(code);
  return failed(
    issue(
      "run-code-unreadable",
      "code",
      `"${typed}" is no run code`,
      "Type it as on the phone, for example H-329-04.",
    ),
  );
};

/** 1 January is 1. The date is the crew's own, by the calendar on their wall. */
export const dayOfYear = (date: {
  readonly year: number;
  readonly month: number;
  readonly day: number;
}): number => (Date.UTC(date.year, date.month - 1, date.day) - Date.UTC(date.year, 0, 1)) / 86_400_000 + 1;

/**
 * The next code that this phone may give out.
 * @param phone  which of the stand's phones this is, 1 to 9
 * @param taken  every code this phone knows of, from any year
 * @fails run-codes-used-up when 99 runs of this day are taken; phone-number-outside
 */
export const nextRunCode = (
  letter: string,
  day: number,
  phone: number,
  taken: readonly string[],
): Result<string> => {
  if (!Number.isInteger(phone) || phone < 1 || phone > PHONES)
    return failed(
      issue(
        "phone-number-outside",
        "phone",
        `phone ${phone} is not 1 to ${PHONES}`,
        "Give each phone of the stand its own number, the first one 1.",
      ),
    );
  const base = phone === 1 ? 0 : phone * 100;
  for (let n = 1; n <= RUNS_A_PHONE; n++) {
    const code = runCodeText({ letter, day, number: base + n });
    if (!taken.includes(code)) return ok(code);
  }
  return failed(
    issue(
      "run-codes-used-up",
      "code",
      `this phone has given out ${RUNS_A_PHONE} codes for day ${day}`,
      "Export and clear old runs, or use another phone.",
    ),
  );
};
