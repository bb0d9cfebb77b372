import { posix } from "node:path";
import { type Finding, isCode, parse, type Source } from "./source.ts";

/** What one folder may import: its own files always, then these folders or files, then these packages. */
interface Contract {
  mayImport: readonly string[];
  packages: readonly string[];
}

const view = ["preact", "@preact/signals"];
const face: Contract = {
  mayImport: ["core/", "app/widgets/", "app/session/", "app/ports.ts", "app/text.ts", "app/address.ts"],
  packages: view,
};
const adapter = (...packages: string[]): Contract => ({ mayImport: ["core/", "app/ports.ts"], packages });
const node = ["node:"];

/**
 * The folder contract (docs/ARCHITECTURE.md). What is not listed is forbidden: a new folder or package says here
 * first what it may touch. The longest matching name counts.
 */
const contracts: Readonly<Record<string, Contract>> = {
  "core/": { mayImport: ["core/"], packages: ["valibot", "canonicalize", "@noble/hashes", "fflate"] },
  "core/sequence/": { mayImport: ["core/"], packages: ["xstate"] },

  "app/start/": face,
  "app/stand/": face,
  "app/indoors/": face,
  "app/day/": face,
  "app/bench/": face,
  "app/review/": face,
  "app/plan/": face,
  "app/drill/": face,
  "app/stands/": face,

  "app/carry/": {
    mayImport: ["core/", "app/widgets/", "app/ports.ts", "app/text.ts"],
    packages: [...view, "lean-qr"],
  },

  "app/session/": { mayImport: ["core/", "app/ports.ts", "app/text.ts"], packages: [] },
  "app/widgets/": { mayImport: ["core/", "app/text.ts"], packages: view },
  "app/widgets/plot-draw.ts": { mayImport: ["core/"], packages: ["@observablehq/plot"] },
  "app/text.ts": { mayImport: ["core/"], packages: [] },
  "app/ports.ts": { mayImport: ["core/"], packages: [] },
  "app/address.ts": { mayImport: [], packages: view },
  "app/trusted-scripts.ts": { mayImport: [], packages: [] },

  "app/storage/": adapter("idb"),
  "app/worker/": adapter(),
  "app/worker/read-code.ts": adapter("qr"),
  "app/offline/": adapter("workbox-core", "workbox-precaching", "workbox-routing", "workbox-window"),
  "app/device/": adapter(),
  "app/transfer/": adapter(),

  "app/demo/": { mayImport: ["core/"], packages: [] },
  "app/main.tsx": { mayImport: ["core/", "app/"], packages: view },
  "app/later-faces.tsx": { mayImport: ["core/", "app/"], packages: view },

  "app/cli/": { mayImport: ["core/", "app/text.ts"], packages: node },
  "app/collector/": { mayImport: ["core/"], packages: [...node, "hono", "@hono/node-server"] },
  "app/serve/": { mayImport: ["app/offline/service-worker.ts"], packages: [...node, "vite"] },
  "app/cli/vite.config.ts": { mayImport: [], packages: [...node, "vite"] },
  "app/vite.config.ts": { mayImport: ["app/serve/"], packages: ["vite"] },

  "tests/": { mayImport: ["core/", "app/", "tests/"], packages: ["*"] },
};

/** The version is the package's own, wherever it is shown. */
const everyoneMayImport = ["package.json"];

export function importFindings(house: readonly Source[]): Finding[] {
  const paths = new Set(house.map(({ path }) => path));
  return house
    .filter(({ path }) => isCode(path))
    .flatMap((source) => {
      const rule = contractOf(source.path);
      if (!rule)
        return [
          {
            path: source.path,
            line: 1,
            what: "no folder contract: say in tests/tidy/imports.ts what it may import",
          },
        ];
      return parse(source).imports.flatMap(({ from, line }) => {
        const what = from.startsWith(".")
          ? relativeFault(source.path, from, rule, paths)
          : packageFault(from, rule);
        return what === undefined ? [] : [{ path: source.path, line, what }];
      });
    });
}

function relativeFault(
  path: string,
  from: string,
  rule: ReturnType<typeof contractOf>,
  paths: ReadonlySet<string>,
) {
  const target = resolveImport(path, from);
  if (!/\.[a-z]+(\?\w+)?$/.test(from)) return `"${from}" has no ending: write the file's name out`;
  if (!paths.has(target) && !everyoneMayImport.includes(target)) return `"${from}" is no file`;
  const own = rule && ownFolder(rule.folder);
  const allowed = [...(rule?.contract.mayImport ?? []), ...everyoneMayImport];
  if ((own && target.startsWith(own)) || allowed.some((start) => target.startsWith(start))) return undefined;
  return `${rule?.folder} may not import ${target}`;
}

/** A file with a contract of its own still belongs to its folder; files right under app/ belong to none. */
function ownFolder(name: string): string | undefined {
  if (name.endsWith("/")) return name;
  const folder = posix.dirname(name);
  return folder === "app" ? undefined : `${folder}/`;
}

function packageFault(from: string, rule: ReturnType<typeof contractOf>): string | undefined {
  const allowed = rule?.contract.packages ?? [];
  const fits = (name: string) =>
    name === "*" ||
    (name.endsWith(":") ? from.startsWith(name) : from === name || from.startsWith(`${name}/`));
  return allowed.some(fits) ? undefined : `${rule?.folder} may not import the package "${from}"`;
}

function contractOf(path: string): { folder: string; contract: Contract } | undefined {
  const fitting = Object.entries(contracts)
    .filter(([folder]) => path === folder || (folder.endsWith("/") && path.startsWith(folder)))
    .sort(([a], [b]) => b.length - a.length);
  const [best] = fitting;
  return best && { folder: best[0], contract: best[1] };
}

export function resolveImport(path: string, from: string): string {
  return posix.join(posix.dirname(path), from.replace(/\?\w+$/, ""));
}

/** A circle of files has no bottom to start reading from, and its load order decides what is undefined. */
export function circleFindings(house: readonly Source[]): Finding[] {
  const targets = new Map(
    house
      .filter(({ path }) => isCode(path))
      .map((source) => [
        source.path,
        parse(source)
          .imports.filter(({ typeOnly, from }) => !typeOnly && from.startsWith("."))
          .map(({ from }) => resolveImport(source.path, from)),
      ]),
  );
  const done = new Set<string>();
  const findings: Finding[] = [];
  const walk = (path: string, trail: readonly string[]) => {
    const start = trail.indexOf(path);
    if (start !== -1) {
      findings.push({
        path,
        line: 1,
        what: `imports itself by way of ${[...trail.slice(start + 1), path].join(" → ")}`,
      });
      return;
    }
    if (done.has(path)) return;
    for (const target of targets.get(path) ?? []) walk(target, [...trail, path]);
    done.add(path);
  };
  for (const path of targets.keys()) walk(path, []);
  return findings;
}
