import { describe, expect, it } from "vitest";
import heron from "../../../app/demo/rig-heron.json";
import kingfisher from "../../../app/demo/rig-kingfisher.json";
import { parseRig } from "../../../core/rig/parse-rig.ts";

// biome-ignore lint/suspicious/noExplicitAny: the point is to break the document in every way
type Json = any;

const broken = (change: (rig: Json) => void, from: Json = heron): Json => {
  const copy = structuredClone(from);
  change(copy);
  return copy;
};

/** "code at where" of every issue. */
const issuesOf = (json: unknown): readonly string[] => {
  const result = parseRig(json);
  return result.ok ? [] : result.issues.map(({ code, where }) => `${code} at ${where}`);
};

describe("a shipped rig", () => {
  it.each([heron, kingfisher])("is read to the letter: $name", (rig) => {
    const result = parseRig(rig);
    expect(result).toEqual({ ok: true, value: rig });
  });
});

describe("a rig whose fields are not what they should be", () => {
  it.each<[string, (rig: Json) => void, readonly string[]]>([
    ["an unknown field", (r) => (r.colour = "red"), ["key-unknown at colour"]],
    [
      "two unknown fields in one object, and one deeper",
      (r) => {
        r.colour = "red";
        r.shape = "round";
        r.gauges[1].colour = "red";
      },
      ["key-unknown at gauges[1].colour", "key-unknown at colour", "key-unknown at shape"],
    ],
    [
      "a key that would reach for a prototype",
      (r) => Object.defineProperty(r, "__proto__", { value: 1, enumerable: true }),
      ["key-unknown at __proto__"],
    ],
    [
      "a list where an object belongs",
      (r) => (r.pull = [1, 2]),
      [
        "key-unknown at pull.0",
        "key-unknown at pull.1",
        "key-missing at pull.force_N",
        "key-missing at pull.direction",
      ],
    ],
    ["a missing field", (r) => delete r.limits.pulls, ["key-missing at limits.pulls"]],
    ["no emptying path", (r) => delete r.emptying, ["key-missing at emptying"]],
    ["a newer version", (r) => (r.version = 2), ["version-newer at version"]],
    ["a version that is none", (r) => (r.version = "1"), ["version-unknown at version"]],
    ["another format", (r) => (r.format = "stand"), ["value-unknown at format"]],
    ["a number as text", (r) => (r.fill.water_kg = "0.6"), ["wrong-type at fill.water_kg"]],
    ["bar where pascals belong", (r) => (r.bottle.limit_Pa = 5), ["out-of-range at bottle.limit_Pa"]],
    ["a word outside its list", (r) => (r.gauges[0].unit = "atm"), ["value-unknown at gauges[0].unit"]],
    ["an unknown emptying path", (r) => (r.emptying.kind = "luck"), ["value-unknown at emptying.kind"]],
    ["one restraint only", (r) => r.restraints.splice(1), ["out-of-range at restraints"]],
    ["an empty name", (r) => (r.owner = "  "), ["out-of-range at owner"]],
    [
      "an id every object has",
      (r) => (r.restraints[0].id = "constructor"),
      ["out-of-range at restraints[0].id"],
    ],
    [
      "an id that would split a key",
      (r) => (r.restraints[0].id = "A:B"),
      ["out-of-range at restraints[0].id"],
    ],
    ["half a shot", (r) => (r.bottle.shotsSoFar = 2.5), ["out-of-range at bottle.shotsSoFar"]],
  ])("is refused with the place: %s", (_what, change, issues) => {
    expect(issuesOf(broken(change))).toEqual(issues);
  });

  it.each([null, 7, "rig", [], undefined])("is refused when it is no object: %s", (json) => {
    expect(issuesOf(json)).toEqual(["wrong-type at the file"]);
  });

  it("explains a missing field by what it is for", () => {
    const result = parseRig(broken((r) => delete r.emptying));
    expect(result).toMatchObject({
      issues: [
        { detail: "not given: how a charged bottle is emptied from outside the line: vent or release" },
      ],
    });
  });
});

describe("a rig that contradicts itself", () => {
  it.each<[string, (rig: Json) => void, readonly string[]]>([
    [
      "limit below the set pressure",
      (r) => (r.bottle.limit_Pa = 250_000),
      ["limit-below-set at bottle.limit_Pa"],
    ],
    [
      "any pressure is good",
      (r) => (r.pressure.tolerance_Pa = 300_000),
      ["limit-below-set at bottle.limit_Pa", "tolerance-too-wide at pressure.tolerance_Pa"],
    ],
    ["more water than bottle", (r) => (r.fill.water_kg = 1.49), ["water-exceeds-bottle at fill.water_kg"]],
    ["any fill is good", (r) => (r.fill.tolerance_kg = 0.6), ["tolerance-too-wide at fill.tolerance_kg"]],
    [
      "a capacity known to itself",
      (r) => (r.bottle.capacityU_m3 = 0.0015),
      ["tolerance-too-wide at bottle.capacityU_m3"],
    ],
    [
      "an opening wider than the bottle",
      (r) => (r.opening.diameter_m = 0.2),
      ["opening-exceeds-bottle at opening.diameter_m"],
    ],
    [
      "a supply that cannot reach the set pressure",
      (r) => (r.supply.workingMin_Pa = 340_000),
      ["supply-under-set at supply.workingMin_Pa"],
    ],
    ["a band upside down", (r) => (r.supply.workingMax_Pa = 400_000), ["band-empty at supply.workingMax_Pa"]],
    [
      "a band above a full tank",
      (r) => (r.supply.full_Pa = 700_000),
      ["supply-over-full at supply.workingMax_Pa"],
    ],
    [
      "a one-way valve that never opens",
      (r) => (r.oneWayValveOpens_Pa = 300_000),
      ["valve-never-opens at oneWayValveOpens_Pa"],
    ],
    [
      "a gauge that ends below the limit",
      (r) => (r.gauges[2].range_Pa.max = 400_000),
      ["gauge-out-of-range at gauges[2].range_Pa"],
    ],
    [
      "a gauge that does not show zero",
      (r) => (r.gauges[0].range_Pa.min = 100_000),
      ["gauge-out-of-range at gauges[0].range_Pa"],
    ],
    [
      "a zero as wide as a tenth",
      (r) => (r.gauges[2].zeroWithin_Pa = 30_000),
      ["zero-too-wide at gauges[2].zeroWithin_Pa"],
    ],
    ["a supply read on no gauge", (r) => (r.supply.gauge = "tank"), ["gauge-unknown at supply.gauge"]],
    ["a supply read in the line", (r) => (r.supply.gauge = "line"), ["gauge-on-wrong-side at supply.gauge"]],
    [
      "gauges that never disagree",
      (r) => (r.limits.gaugesAgree_Pa = 200_000),
      ["gauges-never-disagree at limits.gaugesAgree_Pa"],
    ],
    [
      "a wait under a minute after a misfire",
      (r) => (r.limits.waitAfterDoubt_s = 30),
      ["wait-too-short at limits.waitAfterDoubt_s"],
    ],
    [
      "the longer wait after the surer event",
      (r) => (r.limits.waitAfterRelease_s = 90),
      ["waits-reversed at limits.waitAfterRelease_s"],
    ],
    [
      "a window that outlasts clear",
      (r) => (r.limits.zeroToRelease_s = 20),
      ["window-outlasts-clear at limits.zeroToRelease_s"],
    ],
    [
      "no time left at pressure",
      (r) => (r.limits.timeAtPressure_s = 18),
      ["pressure-time-too-short at limits.timeAtPressure_s"],
    ],
    [
      "no line",
      (r) => (r.places = r.places.filter((p: Json) => p.kind !== "line")),
      ["place-missing at places"],
    ],
    ["a post in the splash", (r) => (r.places[1].at = { x: -1, y: -2 }), ["place-in-sector at places[1].at"]],
    [
      "two restraints in one place",
      (r) => (r.restraints[3].at = { ...r.restraints[2].at }),
      ["restraints-in-one-place at restraints[3].at"],
    ],
    [
      "two restraints of one mark",
      (r) => (r.restraints[3].mark = "a"),
      ["name-repeated at restraints[3].mark"],
    ],
    ["two restraints of one id", (r) => (r.restraints[3].id = "A"), ["name-repeated at restraints[3].id"]],
    ["two gauges of one name", (r) => (r.gauges[2].name = "tank gauge"), ["name-repeated at gauges[2].name"]],
    [
      "two channels in one column",
      (r) => (r.channels[1].column = "north_N"),
      ["name-repeated at channels[1].column"],
    ],
    [
      "a responsible person twice",
      (r) => (r.responsible = ["R1", "R1"]),
      ["name-repeated at responsible[1]"],
    ],
  ])("is refused with the reason: %s", (_what, change, issues) => {
    expect(issuesOf(broken(change))).toEqual(issues);
  });

  it.each<[string, (rig: Json) => void, readonly string[]]>([
    [
      "vents by a gauge that is not there",
      (r) => (r.emptying.bottleGauge = "none"),
      ["gauge-unknown at emptying.bottleGauge"],
    ],
    [
      "believes a line gauge of the bottle",
      (r) => (r.emptying.bottleGauge = "line"),
      ["gauge-on-wrong-side at emptying.bottleGauge"],
    ],
  ])("is refused when it %s", (_what, change, issues) => {
    expect(issuesOf(broken(change, kingfisher))).toEqual(issues);
  });

  it("reads a sector that runs through straight ahead", () => {
    const across = (y: number) =>
      broken((r) => {
        r.sectors = [{ name: "ahead", from_deg: 330, to_deg: 30, radius_m: 20 }];
        r.places[3].at = { x: 1, y };
      });
    expect(issuesOf(across(10))).toEqual(["place-in-sector at places[3].at"]);
    expect(issuesOf(across(-14))).toEqual([]);
  });

  it("gives each reason at once, beside what is missing or unknown", () => {
    const rig = broken((r) => {
      r.bottle.limit_Pa = 250_000;
      r.gauges[0].range_Pa.max = 500_000;
      r.gauges[0].colour = "red";
      r.limits.waitAfterDoubt_s = 10;
      delete r.emptying;
    });
    expect(issuesOf(rig)).toEqual([
      "key-unknown at gauges[0].colour",
      "key-missing at emptying",
      "limit-below-set at bottle.limit_Pa",
      "gauge-out-of-range at gauges[0].range_Pa",
      "wait-too-short at limits.waitAfterDoubt_s",
      "waits-reversed at limits.waitAfterRelease_s",
    ]);
  });
});
