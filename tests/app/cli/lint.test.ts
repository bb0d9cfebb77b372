import { describe, expect, it } from "vitest";
import { lintHelp, lintVerb } from "../../../app/cli/lint.ts";
import procedureHeron from "../../../app/demo/procedure-heron.json";
import rigHeron from "../../../app/demo/rig-heron.json";
import { twentyFaults } from "../../core/procedure/lint/twenty-faults.ts";

const dated = (until: string) => ({
  ...procedureHeron,
  phases: {
    ...procedureHeron.phases,
    armed: procedureHeron.phases.armed.map((step) => ({
      ...step,
      hold: { ...step.hold, opens: "conductor" },
    })),
  },
  deviations: [
    {
      rule: "holds-complete",
      where: "phases.armed[0]",
      why: "a crew of four today",
      acceptedBy: "R1",
      until,
    },
  ],
});

const files: Readonly<Record<string, string>> = {
  "P.json": JSON.stringify(procedureHeron),
  "R.json": JSON.stringify(rigHeron),
  "twenty.json": JSON.stringify(twentyFaults().json),
  "bad-rig.json": JSON.stringify({ ...rigHeron, bottle: { ...rigHeron.bottle, limit_Pa: 250_000 } }),
  "dated.json": JSON.stringify(dated("2026-07-31")),
  "broken.json": '{\n  "format": "fourfast-procedure",\n  "version" 1\n}',
  "bom.json": `\uFEFF${JSON.stringify(procedureHeron)}`,
};

async function terminal(...args: string[]) {
  const printed = { out: "", err: "" };
  const code = await lintVerb(args, {
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

describe("fourfast lint", () => {
  it.each(["P.json", "bom.json"])("finds nothing in the shipped procedure on its rig (%s)", async (file) => {
    expect(await terminal(file, "--rig", "R.json")).toEqual({
      code: 0,
      out: "0 errors, 0 warnings, 0 notes\n",
      err: "",
    });
  });

  it("says so when the rig's numbers were not judged", async () => {
    const { code, out } = await terminal("P.json");
    expect(code).toBe(0);
    expect(out).toContain("give --rig");
  });

  it("lists all twenty faults of a file with twenty faults", async () => {
    const { code, out, err } = await terminal("twenty.json", "--rig=R.json", "--json");
    const { issues, warnings, notes } = JSON.parse(out);
    expect([code, err]).toEqual([1, ""]);
    expect(issues.length + warnings.length).toBe(20);
    expect(notes).toEqual([]);
    for (const each of [...issues, ...warnings])
      expect(Object.keys(each).sort()).toEqual(["code", "detail", "remedy", "where"]);
  });

  it("prints place, fault, remedy and rule of each for a person", async () => {
    const { out } = await terminal("twenty.json", "--rig", "R.json");
    expect(out).toMatch(/error {2}phases\.charged\[3\]\.place\n.*\n.*\[away-while-charged\]\n/);
    expect(out).toMatch(/\n18 errors, 2 warnings, 0 notes\n$/);
  });

  it("lists what is wrong with the rig beside what is wrong with the procedure", async () => {
    const { code, out } = await terminal("twenty.json", "--rig", "bad-rig.json", "--json");
    const codes = JSON.parse(out).issues.map(({ where }: { where: string }) => where);
    expect(code).toBe(1);
    expect(codes[0]).toBe("bad-rig.json, bottle.limit_Pa");
    expect(codes.length).toBeGreaterThan(10);
  });

  it.each([
    ["2026-07-31", 0],
    ["2026-08-01", 1],
  ])("lets a deviation count until its last day: on %s exit %i", async (today, code) => {
    expect((await terminal("dated.json", "--rig", "R.json", "--today", today)).code).toBe(code);
  });

  it("places a slip in the JSON", async () => {
    const { code, out } = await terminal("broken.json", "--json");
    expect(code).toBe(1);
    expect(JSON.parse(out).issues).toMatchObject([
      { code: "json-invalid", where: "broken.json, line 3, column 13" },
    ]);
  });

  it("says which file cannot be read", async () => {
    const { code, out } = await terminal("none.json", "--json");
    expect([code, JSON.parse(out).issues[0].code]).toEqual([1, "file-unreadable"]);
  });

  it.each([
    [[], "needs a procedure"],
    [["P.json", "Q.json"], "one procedure"],
    [["P.json", "--rig"], "--rig needs"],
    [["P.json", "--rig", "R.json", "--rig=R.json"], "twice"],
    [["P.json", "--strict"], "does not know"],
    [["P.json", "--today", "soon"], "needs a date"],
    [["P.json", "--today", "2026-13-45"], "needs a date"],
    [["-", "--rig", "-"], "standard input"],
  ])("is wrong usage: %j", async (args, words) => {
    const { code, out, err } = await terminal(...args);
    expect([code, out]).toEqual([2, ""]);
    expect(err).toContain(words);
    expect(err).toContain(lintHelp);
  });
});
