import { execFileSync, spawnSync } from "node:child_process";
import { describe, expect, test } from "vitest";
import { runTerminal } from "../../../app/cli/run.ts";
import type { Verb } from "../../../app/cli/verb.ts";
import { verbs } from "../../../app/cli/verbs.ts";

const loaded: string[] = [];
const echo: Verb = {
  help: "say the arguments again\n\n  fourfast echo WORD\n",
  async run(args, io) {
    io.out(JSON.stringify({ args }));
    return args.length === 0 ? 1 : 0;
  },
};
const load = (name: string) => async () => {
  loaded.push(name);
  return echo;
};

async function fourfast(...args: string[]) {
  loaded.length = 0;
  const printed = { out: "", err: "" };
  const io = {
    readFile: async () => new Uint8Array(),
    out(text: string) {
      printed.out += text;
    },
    err(text: string) {
      printed.err += text;
    },
  };
  const code = await runTerminal(args, {
    verbs: { echo: load("echo"), other: load("other") },
    version: "1.2.3",
    io,
  });
  return { code, ...printed };
}

describe("the terminal", () => {
  test("hands the rest to the verb and gives back its exit code, loading no other verb", async () => {
    expect(await fourfast("echo", "a", "--json")).toEqual({
      code: 0,
      out: '{"args":["a","--json"]}',
      err: "",
    });
    expect(loaded).toEqual(["echo"]);
    expect((await fourfast("echo")).code).toBe(1);
  });

  test.each([[[]], [["juggle"]], [["--loud"]], [["constructor"]], [["__proto__"]]])(
    "calls %j wrong usage: exit 2, usage on standard error, nothing on standard output",
    async (args) => {
      const { code, out, err } = await fourfast(...args);
      expect([code, out]).toEqual([2, ""]);
      expect(err).toContain("fourfast <verb>");
    },
  );

  test("helps on standard output: every verb with what it does, then one verb alone", async () => {
    const all = await fourfast("--help");
    expect([all.code, all.err]).toEqual([0, ""]);
    expect(all.out).toContain("echo   say the arguments again");
    const one = await fourfast("echo", "--help");
    expect(one).toEqual({ code: 0, out: echo.help, err: "" });
  });

  test("says its version", async () => {
    expect(await fourfast("--version")).toEqual({ code: 0, out: "1.2.3\n", err: "" });
  });
});

test.each(Object.keys(verbs))(
  "the verb %s helps with a first line that is a summary, and an example",
  async (name) => {
    const verb = await verbs[name]?.();
    expect(verb?.help.trimStart().split("\n")[0]?.length).toBeGreaterThan(10);
    expect(verb?.help).toContain(`fourfast ${name}`);
  },
);

describe("the built file", () => {
  const bin = new URL("../../../dist/cli/fourfast.js", import.meta.url).pathname;

  test("runs by itself and through node alike", () => {
    const direct = execFileSync(bin, ["--version"], { encoding: "utf8" });
    expect(direct).toMatch(/^\d+\.\d+\.\d+\n$/);
    expect(execFileSync(process.execPath, [bin, "--version"], { encoding: "utf8" })).toBe(direct);
  });

  test("exits 2 on a verb that does not exist", () => {
    const { status, stdout, stderr } = spawnSync(bin, ["juggle"], { encoding: "utf8" });
    expect([status, stdout]).toEqual([2, ""]);
    expect(stderr).toContain("juggle");
  });
});
