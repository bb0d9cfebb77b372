import { describe, expect, test } from "vitest";
import { callFindings } from "./calls.ts";
import { deadFileFindings } from "./dead-files.ts";
import { deadDependencyFindings } from "./dependencies.ts";
import { folderFindings } from "./folders.ts";
import { circleFindings, importFindings } from "./imports.ts";
import { lengthFindings } from "./length.ts";
import { linkFindings } from "./links.ts";
import { defaultExportFindings, nameFindings } from "./names.ts";
import type { Finding, Source } from "./source.ts";
import { wordFindings } from "./words.ts";

/** A house of a few files. Each rule is shown one that breaks it and one that does not. */
const house = (files: Record<string, string>): Source[] =>
  Object.entries(files).map(([path, text]) => ({ path, text }));
const at = (findings: readonly Finding[]) => findings.map(({ path, line }) => `${path}:${line}`);

describe("imports", () => {
  const bad = (path: string, text: string, ...others: string[]) =>
    importFindings(house({ [path]: text, ...Object.fromEntries(others.map((other) => [other, ""])) })).length;

  test.each([
    ["core reaches into the app", "core/force/a.ts", 'import "../../app/text.ts";', "app/text.ts"],
    ["core uses Node", "core/force/a.ts", 'import { readFileSync } from "node:fs";'],
    ["xstate outside the sequence", "core/force/a.ts", 'import { setup } from "xstate";'],
    ["a face imports a face", "app/stand/a.tsx", 'import { b } from "../bench/b.tsx";', "app/bench/b.tsx"],
    [
      "a face imports only the type of a face",
      "app/stand/a.tsx",
      'import type { B } from "../bench/b.tsx";',
      "app/bench/b.tsx",
    ],
    [
      "a face imports an adapter",
      "app/stand/a.tsx",
      'const s = await import("../storage/s.ts");',
      "app/storage/s.ts",
    ],
    [
      "a face names an adapter's worker",
      "app/bench/a.tsx",
      'new Worker(new URL("../worker/w.ts", import.meta.url));',
      "app/worker/w.ts",
    ],
    [
      "an adapter imports an adapter",
      "app/storage/a.ts",
      'export { b } from "../worker/b.ts";',
      "app/worker/b.ts",
    ],
    [
      "an adapter imports a face",
      "app/storage/a.ts",
      'import { b } from "../stand/b.tsx";',
      "app/stand/b.tsx",
    ],
    [
      "the plot library beside its one file",
      "app/bench/a.tsx",
      'import * as Plot from "@observablehq/plot";',
    ],
    ["anything imports the composition root", "app/stand/a.tsx", 'import "../main.tsx";', "app/main.tsx"],
    ["anything but tests imports tests", "app/stand/a.tsx", 'import "../../tests/x.ts";', "tests/x.ts"],
    ["no ending", "core/force/a.ts", 'import { b } from "./b";', "core/force/b.ts"],
    ["a file that is not there", "core/force/a.ts", 'import { b } from "./gone.ts";'],
    ["a folder nobody has described", "app/novelty/a.ts", "export const a = 1;"],
  ])("are refused where %s", (_why, path, text, ...others) => {
    expect(bad(path, text, ...others)).toBe(1);
  });

  test.each([
    ["core on core", "core/force/a.ts", 'import { b } from "../units/b.ts";', "core/units/b.ts"],
    ["xstate in the sequence", "core/sequence/a.ts", 'import { setup } from "xstate";'],
    [
      "a face on widgets and ports",
      "app/stand/a.tsx",
      'import "../widgets/b.tsx"; import type { C } from "../ports.ts";',
      "app/widgets/b.tsx",
      "app/ports.ts",
    ],
    [
      "the one plot file on its neighbours",
      "app/widgets/plot-draw.ts",
      'import "@observablehq/plot"; import "./b.ts";',
      "app/widgets/b.ts",
    ],
    [
      "the composition root on everything",
      "app/main.tsx",
      'import "./storage/b.ts"; import "./stand/c.tsx";',
      "app/storage/b.ts",
      "app/stand/c.tsx",
    ],
    [
      "tests on everything",
      "tests/core/a.test.ts",
      'import "vitest"; import "../../app/main.tsx";',
      "app/main.tsx",
    ],
  ])("are allowed for %s", (_why, path, text, ...others) => {
    expect(bad(path, text, ...others)).toBe(0);
  });

  test("in a circle are refused, and a circle of types alone is none", () => {
    const value = house({
      "core/a.ts": 'import { b } from "./b.ts";',
      "core/b.ts": 'import { a } from "./a.ts";',
    });
    expect(circleFindings(value)).toHaveLength(1);
    const types = house({
      "core/a.ts": 'import type { B } from "./b.ts";',
      "core/b.ts": 'import { a } from "./a.ts";',
    });
    expect(circleFindings(types)).toEqual([]);
  });
});

describe("calls", () => {
  test.each([
    ["core/a.ts", "export const t = Date.now();"],
    ["core/a.ts", "export const t = new Date(0);"],
    ["core/a.ts", "export const r = Math.random();"],
    ["core/a.ts", "export const g = globalThis;"],
    ["app/storage/a.ts", "await tx.store.put(entry);"],
    ["app/storage/a.ts", 'await db.add("entries", entry);'],
    ["app/stand/a.tsx", 'console.log("x");'],
    ["app/stand/a.tsx", 'if (confirm("Sure?")) go();'],
    ["tests/a.test.ts", 'test.only("x", () => {});'],
    ["tests/a.test.ts", 'describe.skip("x", () => {});'],
  ])("are refused: %s %s", (path, text) => {
    expect(at(callFindings(house({ [path]: text })))).toEqual([`${path}:1`]);
  });

  test("are seen, not read: a comment and a string may name them", () => {
    const text = 'export const words = "Date.now()"; // Math.random() has no place here\n';
    expect(callFindings(house({ "core/a.ts": text }))).toEqual([]);
  });

  test("are free where they belong", () => {
    expect(
      callFindings(house({ "app/cli/main.ts": "console.error(1);", "app/session/clock.ts": "Date.now();" })),
    ).toEqual([]);
  });
});

describe("names", () => {
  test.each([
    "core/utils.ts",
    "app/stand/helpers/a.ts",
    "core/units/unit-manager.ts",
    "core/engine.ts",
    "app/common/a.ts",
    "core/Force.ts",
    "core/force_file.ts",
    "app/stand/index.tsx",
    "core/force/reduce2.ts",
  ])("are refused: %s", (path) => {
    expect(nameFindings([path])).toHaveLength(1);
  });

  test("of things, of tools and of tests are fine", () => {
    const fine = [
      "README.md",
      ".npmrc",
      "core/force/low-pass.ts",
      "tests/reference/air.reference.test.ts",
      "app/public/icons/icon-192.png",
    ];
    expect(nameFindings(fine)).toEqual([]);
  });

  test("are given by the file that exports, except where a tool demands a default", () => {
    const text = "export default function x() {}";
    expect(at(defaultExportFindings(house({ "core/a.ts": text, "app/vite.config.ts": text })))).toEqual([
      "core/a.ts:1",
    ]);
  });
});

describe("dead files", () => {
  test("are those that nothing starts and nothing imports", () => {
    const files = house({
      "package.json": '{"scripts":{"start":"tsx app/serve/main.ts"}}',
      "app/serve/main.ts": 'import "./site.ts"; new Worker(new URL("./worker.ts", import.meta.url));',
      "app/serve/site.ts": "",
      "app/serve/worker.ts": "",
      "app/index.html": '<script type="module" src="./main.tsx"></script>',
      "app/main.tsx": "",
      "tests/a.test.ts": 'import "./record.ts";',
      "tests/record.ts": "",
      "core/left-behind.ts": "",
    });
    expect(at(deadFileFindings(files))).toEqual(["core/left-behind.ts:1"]);
  });
});

describe("dependencies", () => {
  const findings = (dependencies: string[], text: string) =>
    deadDependencyFindings(
      house({
        "package.json": JSON.stringify({
          devDependencies: Object.fromEntries(dependencies.map((name) => [name, "1.0.0"])),
        }),
        "core/a.ts": text,
      }),
    ).map(({ what }) => what);

  test("that nothing imports are found", () => {
    expect(
      findings(["idb", "@noble/hashes", "tsx"], 'import { sha256 } from "@noble/hashes/sha2.js";'),
    ).toEqual(["nothing imports idb: npm rm it"]);
  });
  test("are told apart from packages whose name only begins alike", () => {
    expect(findings(["preact"], 'import { useRoute } from "preact-iso";')).toHaveLength(1);
  });
});

describe("links", () => {
  const files = {
    "docs/model.md": "# Model\n\n## Total impulse, `I`\n",
    "core/impulse.ts": "/** @source docs/model.md#total-impulse-i */\nexport const a = 1;\n",
    "docs/a.md":
      "[the model](./model.md#model), [here](#there)\n\n# There\n\nsee core/impulse.ts and docs/model.md.\n",
  };
  const findings = (change: Record<string, string>) => {
    const all = { ...files, ...change };
    return at(linkFindings(house(all), Object.keys(all)));
  };

  test("that lead somewhere pass", () => {
    expect(findings({})).toEqual([]);
  });
  test("to a file that is gone are found, in a document and in a comment", () => {
    expect(findings({ "docs/b.md": "\n[x](./gone.md)" })).toEqual(["docs/b.md:2"]);
    expect(findings({ "core/b.ts": "// see docs/gone.md\n" })).toEqual(["core/b.ts:1"]);
  });
  test("to a heading that is gone are found", () => {
    expect(findings({ "docs/b.md": "[x](./model.md#gone)" })).toEqual(["docs/b.md:1"]);
    expect(findings({ "core/b.ts": "\n/**\n * docs/model.md#gone\n */" })).toEqual(["core/b.ts:3"]);
  });
  test("in a code block, and out into the world, are left alone", () => {
    expect(findings({ "docs/b.md": "```\n[x](./gone.md)\n```\n[y](https://example.org/gone.md)" })).toEqual(
      [],
    );
  });
});

describe("lengths", () => {
  const long = (lines: number) => `export function reduce() {\n${"  step();\n".repeat(lines - 2)}}\n`;

  test("over the limit are found, for a file and for a function", () => {
    expect(
      at(lengthFindings(house({ "core/a.ts": `${"\n".repeat(300)}export const a = 1;\n` }), {})),
    ).toEqual(["core/a.ts:1"]);
    expect(at(lengthFindings(house({ "core/a.ts": long(61) }), {}))).toEqual(["core/a.ts:1"]);
    expect(lengthFindings(house({ "core/a.ts": long(60) }), {})).toEqual([]);
  });
  test("in the ratchet may stay, may not grow, and must be lowered when they shrink", () => {
    const ratchet = { "core/a.ts reduce": 70 };
    expect(lengthFindings(house({ "core/a.ts": long(70) }), ratchet)).toEqual([]);
    expect(lengthFindings(house({ "core/a.ts": long(71) }), ratchet)).toHaveLength(1);
    expect(at(lengthFindings(house({ "core/a.ts": long(69) }), ratchet))).toEqual([
      "tests/tidy/ratchet.ts:1",
    ]);
  });
});

test("words of unfinished work and paths of one machine are found", () => {
  const unfinished = ["TO", "DO"].join("");
  const machine = ["", "tmp", "x"].join("/");
  const files = house({
    "core/a.ts": `// ${unfinished}: later\n`,
    "docs/a.md": `see ${machine}\n`,
    "docs/b.md": "temporary\n",
  });
  expect(at(wordFindings(files))).toEqual(["core/a.ts:1", "docs/a.md:1"]);
});

describe("folders", () => {
  test("at the top are fixed", () => {
    expect(at(folderFindings(["scripts/a.ts", "vite.config.ts", ".npmrc", "core/a.ts"]))).toEqual([
      "scripts/a.ts:1",
      "vite.config.ts:1",
    ]);
  });
  test("of tests mirror the sources", () => {
    expect(
      at(folderFindings(["core/force/a.ts", "tests/core/force/a.test.ts", "tests/core/gone/a.test.ts"])),
    ).toEqual(["tests/core/gone/a.test.ts:1"]);
  });
});
