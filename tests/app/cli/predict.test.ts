import { describe, expect, test } from "vitest";
import { predictHelp, predictVerb } from "../../../app/cli/predict.ts";

const setup = { water_kg: 0.7, setPressure_Pa: 3e5, bottleVolume_m3: 0.0015, openingDiameter_m: 0.0217 };
const files: Readonly<Record<string, string>> = {
  "S.json": JSON.stringify(setup),
  "bom.json": `\uFEFF${JSON.stringify(setup)}`,
  "throw.json": JSON.stringify({
    ...setup,
    bottleDiameter_m: 0.088,
    ridingMass_kg: 1.05,
    polytropicExponent: 1.25,
  }),
  "left.json": JSON.stringify({ ...setup, water_kg: 1.2, polytropicExponent: 1.4 }),
  "bad.json": JSON.stringify({ ...setup, water_kg: -1, setPressure_bar: 3, polytropicExponent: 2 }),
  "broken.json": '{"water_kg": 0.7,',
};

async function terminal(...args: string[]) {
  const printed = { out: "", err: "" };
  const code = await predictVerb(args, {
    readFile: async (path) => {
      const text = files[path];
      if (text === undefined) throw new Error(`no such file: ${path}`);
      return new TextEncoder().encode(text);
    },
    out: (text) => {
      printed.out += text;
    },
    err: (text) => {
      printed.err += text;
    },
  });
  return { code, ...printed };
}

describe("--json", () => {
  test("prints one object with the keys of the contract, and nothing on standard error", async () => {
    const { code, out, err } = await terminal("--setup", "throw.json", "--json");
    expect([code, err]).toEqual([0, ""]);
    const json = JSON.parse(out);
    const keysOf = (value: unknown): unknown =>
      typeof value === "object" && value !== null
        ? Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, keysOf(inner)]))
        : typeof value;
    const n = "number";
    expect(keysOf({ ...json, assumed: {} })).toEqual({
      water: {
        impulse_Ns: n,
        duration_s: n,
        expelled_kg: n,
        left_kg: n,
        thrustStart_N: n,
        thrustEnd_N: n,
        jetEnergy_J: n,
      },
      air: { impulse_Ns: n, duration_s: n, choked: "boolean" },
      impulse_Ns: n,
      specificImpulse_s: n,
      energy: { workOnWater_J: n, isentropicAvailable_J: n, isothermalAvailable_J: n, pcc2_J: n },
      distance: { pcc2_m: n, tnt_kg: n },
      throw: { speed_m_s: n, height_m: n, heightBound_m: n, rangeBound_m: n },
      u: { impulse_Ns: n },
      assumed: {},
    });
    expect(json.assumed).toMatchObject({ ambientPressure_Pa: 101_325, headOfWater: true });
  });

  test("leaves the throw out where no riding mass is given", async () => {
    expect(JSON.parse((await terminal("--setup=S.json", "--json")).out)).not.toHaveProperty("throw");
  });

  test("the same setup gives the same bytes", async () => {
    expect(await terminal("--json", "--setup", "S.json")).toEqual(
      await terminal("--setup", "S.json", "--json"),
    );
  });

  test("lists every issue as one object, and in words on standard error", async () => {
    const { code, out, err } = await terminal("--setup", "bad.json", "--json");
    expect(code).toBe(1);
    const { issues } = JSON.parse(out);
    expect(issues.map((one: { code: string; where: string }) => `${one.code} ${one.where}`)).toEqual([
      "key-unknown setPressure_bar",
      "out-of-range water_kg",
      "out-of-range polytropicExponent",
    ]);
    for (const one of issues) expect(Object.keys(one)).toEqual(["code", "where", "detail", "remedy"]);
    expect(err.trim().split("\n")).toHaveLength(3);
  });
});

describe("without --json", () => {
  test("prints a table with units, the budget and what was assumed", async () => {
    const { code, out } = await terminal("--setup", "throw.json");
    expect(code).toBe(0);
    for (const line of [
      /^total impulse 12\.81 ± 0\.26 N s \(k = 1\)$/m,
      /water expelled +700\.0 g/,
      /speed at the end of thrust +7\.800 m\/s/,
      /stored, ASME PCC-2-2008, article 5\.1 +261\.3 J/,
      /polytropicExponent ± 0\.05000 +0\.1980 N s/,
      /ambientPressure_Pa +101325/,
    ])
      expect(out).toMatch(line);
  });

  test("says how much water stays behind", async () => {
    expect((await terminal("--setup", "left.json")).out).toMatch(
      /water left, the air being spent +7\d\d\.\d g/,
    );
  });

  test("prints nothing on standard output when the setup is at fault", async () => {
    const { code, out, err } = await terminal("--setup", "bad.json");
    expect([code, out]).toEqual([1, ""]);
    expect(err).toContain("did you mean setPressure_Pa?");
  });
});

test("a byte-order mark is no fault", async () => {
  expect((await terminal("--setup", "bom.json")).code).toBe(0);
});

test.each([
  ["broken.json", "json-invalid", "broken.json, line 1, column 18"],
  ["absent.json", "file-unreadable", "absent.json"],
])("%s is the input's fault: %s", async (path, code, where) => {
  const result = await terminal("--setup", path, "--json");
  expect(result.code).toBe(1);
  expect(JSON.parse(result.out).issues[0]).toMatchObject({ code, where });
});

test.each([
  ["no setup", []],
  ["a setup without a file", ["--setup"]],
  ["an empty file name", ["--setup="]],
  ["an unknown flag", ["--setup", "S.json", "--fast"]],
  ["two setups", ["--setup", "S.json", "--setup", "bad.json"]],
])("%s is wrong usage", async (_what, args) => {
  const { code, out, err } = await terminal(...args);
  expect([code, out]).toEqual([2, ""]);
  expect(err).toContain(predictHelp);
});
