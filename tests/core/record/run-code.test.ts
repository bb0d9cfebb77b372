import { fc, test as property } from "@fast-check/vitest";
import { expect, test } from "vitest";
import { dayOfYear, nextRunCode, readRunCode, runCodeText } from "../../../core/record/run-code.ts";

test("a code names the stand, the day of the year and the run", () => {
  expect(runCodeText({ letter: "H", day: 329, number: 4 })).toBe("H-329-04");
  expect(runCodeText({ letter: "K", day: 7, number: 12 })).toBe("K-007-12");
});

test.each(["H-329-04", "h 329 04", " H329-04 ", "h32904", "H - 329 - 04"])(
  "%j is read as H-329-04",
  (typed) => {
    const code = readRunCode(typed);
    expect(code.ok && runCodeText(code.value)).toBe("H-329-04");
  },
);

test.each(["", "H-329", "329-04", "H-367-01", "H-000-01", "H-329-00", "HH-329-04", "H-329-04-1", "H-29-04"])(
  "%j is no run code, and the remedy shows one",
  (typed) => {
    expect(readRunCode(typed)).toMatchObject({ ok: false, issues: [{ code: "run-code-unreadable" }] });
  },
);

property.prop([
  fc.constantFrom(..."ABCDEFGHIJKLMNOPQRSTUVWXYZ"),
  fc.integer({ min: 1, max: 366 }),
  fc.integer({ min: 1, max: 99 }),
])("every code is read back as it was written", (letter, day, number) => {
  const code = { letter, day, number };
  expect(readRunCode(runCodeText(code))).toEqual({ ok: true, value: code });
});

test("1 January is day 1, and a leap year has 366", () => {
  expect(dayOfYear({ year: 2026, month: 1, day: 1 })).toBe(1);
  expect(dayOfYear({ year: 2026, month: 11, day: 25 })).toBe(329);
  expect(dayOfYear({ year: 2026, month: 12, day: 31 })).toBe(365);
  expect(dayOfYear({ year: 2028, month: 12, day: 31 })).toBe(366);
  expect(dayOfYear({ year: 2028, month: 3, day: 1 })).toBe(61);
});

test("the next code is the first that is free, whatever year it was given out in", () => {
  expect(nextRunCode("H", 329, 1, [])).toEqual({ ok: true, value: "H-329-01" });
  expect(nextRunCode("H", 329, 1, ["H-329-01", "H-329-02", "K-329-03"])).toEqual({
    ok: true,
    value: "H-329-03",
  });
});

test("two phones of one stand that never met cannot give out the same code", () => {
  const given = [1, 2, 9].flatMap((phone) => {
    const codes: string[] = [];
    for (let i = 0; i < 99; i++) {
      const next = nextRunCode("H", 329, phone, codes);
      if (next.ok) codes.push(next.value);
    }
    return codes;
  });
  expect(given.length).toBe(3 * 99);
  expect(new Set(given).size).toBe(given.length);
});

test("the hundredth run of a day on one phone is refused, and so is a phone without a number", () => {
  const taken = Array.from({ length: 99 }, (_, i) => runCodeText({ letter: "H", day: 1, number: i + 1 }));
  expect(nextRunCode("H", 1, 1, taken)).toMatchObject({ ok: false, issues: [{ code: "run-codes-used-up" }] });
  for (const phone of [0, 10, 1.5])
    expect(nextRunCode("H", 1, phone, [])).toMatchObject({
      ok: false,
      issues: [{ code: "phone-number-outside" }],
    });
});
