import { assert } from "../assert.ts";

/**
 * Numbers as they are put before a reader: no more digits than they are good for, a true minus sign, a point.
 * Nothing here is read back by a program.
 */

/** Digits of a standard uncertainty that are worth showing; at most two. @source JCGM 100:2008 (GUM) 7.2.6 */
const uncertaintyDigits = 2;

export type ValueText = {
  readonly value: string;
  readonly u: string;
};

/**
 * A value and its uncertainty, both to the last digit that the uncertainty is stated with.
 * @param u  not negative; 0 where the value is exact, which is then shown to six digits
 */
export function valueWithU(value: number, u: number): ValueText {
  assert(Number.isFinite(value) && u >= 0 && Number.isFinite(u), "a value and its uncertainty are finite");
  if (u === 0) return { value: plainNumber(value, 6), u: "0" };
  // Rounding may carry 0.0996 to 0.10: the exponent is taken after it.
  const exponent = exponentOf(Number(u.toPrecision(uncertaintyDigits)));
  const decimals = uncertaintyDigits - 1 - exponent;
  return { value: fixed(value, decimals), u: fixed(u, decimals) };
}

/** A number to so many significant digits, never in powers of ten between 1e-6 and 1e9. */
export function plainNumber(value: number, digits: number): string {
  assert(Number.isFinite(value), "a number that is shown is finite");
  if (value === 0) return "0";
  const size = Math.abs(value);
  if (size < 1e-6 || size >= 1e9) return trueMinus(value.toExponential(digits - 1));
  const rounded = Number(value.toPrecision(digits));
  return fixed(rounded, digits - 1 - exponentOf(rounded));
}

/** As above with the zeros at its end taken off: for what somebody typed or set, not for what was measured. */
export function shortNumber(value: number, digits: number): string {
  const text = plainNumber(value, digits);
  return text.includes(".") && !text.includes("e") ? text.replace(/\.?0+$/, "") : text;
}

const exponentOf = (value: number) => Math.floor(Math.log10(Math.abs(value)) + 1e-12);

/** Also for negative decimals: 1234 to -2 is 1200. */
function fixed(value: number, decimals: number): string {
  if (decimals >= 0) return trueMinus(value.toFixed(Math.min(decimals, 20)));
  const step = 10 ** -decimals;
  return trueMinus(String(Math.round(value / step) * step));
}

const trueMinus = (text: string) => (/^-[0.]+$/.test(text) ? text.slice(1) : text.replace("-", "−"));
