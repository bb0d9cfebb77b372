import { expect, test } from "vitest";
import { plainNumber, shortNumber, valueWithU } from "../../../core/units/value-text.ts";

test.each([
  [11.8175, 0.1234, "11.82", "0.12"],
  [11.8175, 0.0996, "11.82", "0.10"],
  [1234.5, 56.7, "1235", "57"],
  [123456, 1234, "123500", "1200"],
  [-0.00123, 0.00045, "−0.00123", "0.00045"],
  [0.0004, 0.01, "0.000", "0.010"],
  [-0.0004, 0.01, "0.000", "0.010"],
])("%d with u %d is shown to the digit its uncertainty is stated with", (value, u, shown, shownU) => {
  expect(valueWithU(value, u)).toEqual({ value: shown, u: shownU });
});

test("a value said to be exact is shown to six digits", () => {
  expect(valueWithU(9.80665, 0)).toEqual({ value: "9.80665", u: "0" });
});

test.each([
  [0.0123456, 3, "0.0123"],
  [99.96, 3, "100"],
  [100, 3, "100"],
  [1234567, 3, "1230000"],
  [1.2e-9, 2, "1.2e−9"],
  [-5, 2, "−5.0"],
])("%d to %d digits is %s", (value, digits, text) => {
  expect(plainNumber(value, digits)).toBe(text);
});

test("what was set loses the zeros at its end, what was measured keeps them", () => {
  expect(shortNumber(3, 3)).toBe("3");
  expect(shortNumber(21.7, 4)).toBe("21.7");
  expect(shortNumber(600, 3)).toBe("600");
  expect(plainNumber(3, 3)).toBe("3.00");
});

test("a number that does not exist is never put before a reader", () => {
  expect(() => plainNumber(Number.NaN, 3)).toThrow("finite");
  expect(() => valueWithU(1, -1)).toThrow("finite");
});
