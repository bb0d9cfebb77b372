import { expect, test } from "vitest";
import { addressOf, parseAddress } from "../../app/address.ts";

test("an address is the parts behind the hash", () => {
  expect(parseAddress("#/bench/H-25-14")).toEqual(["bench", "H-25-14"]);
  expect(parseAddress("")).toEqual([]);
  expect(parseAddress("#/")).toEqual([]);
  expect(parseAddress("#bench//")).toEqual(["bench"]);
});

test("what goes into an address comes out of it", () => {
  const parts = ["review", "a/b", "50 %", "ü#?"];
  expect(parseAddress(addressOf(...parts))).toEqual(parts);
});

test("a hand-typed % is itself and stops nothing", () => {
  expect(parseAddress("#/bench/50%")).toEqual(["bench", "50%"]);
});
