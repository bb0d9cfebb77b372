import type { Io, Verb } from "./verb.ts";

/** A fault of our own, apart from the codes that speak of the input (sysexits: EX_SOFTWARE). */
export const faultOfOurs = 70;

export interface Terminal {
  verbs: Readonly<Record<string, () => Promise<Verb>>>;
  version: string;
  io: Io;
}

/** Finds the verb and runs it. The verb prints; this prints only what concerns the choice of verb. */
export async function runTerminal(args: readonly string[], terminal: Terminal): Promise<number> {
  const { io, verbs } = terminal;
  const [first, ...rest] = args;
  if (first === "--version" || first === "-V") {
    io.out(`${terminal.version}\n`);
    return 0;
  }
  if (first === "--help" || first === "-h") {
    io.out(await overview(terminal));
    return 0;
  }
  const load = first !== undefined && Object.hasOwn(verbs, first) ? verbs[first] : undefined;
  if (!load) {
    io.err(first === undefined ? "which verb?\n" : `no verb or flag is called ${JSON.stringify(first)}\n`);
    io.err(`\n${await overview(terminal)}`);
    return 2;
  }
  const verb = await load();
  if (rest.includes("--help") || rest.includes("-h")) {
    io.out(`${verb.help.trimEnd()}\n`);
    return 0;
  }
  return verb.run(rest, io);
}

async function overview({ verbs, version }: Terminal): Promise<string> {
  const names = Object.keys(verbs);
  const widest = Math.max(0, ...names.map((name) => name.length));
  const lines = await Promise.all(
    names.map(async (name) => {
      const summary = (await verbs[name]?.())?.help.trimStart().split("\n")[0] ?? "";
      return `  ${name.padEnd(widest)}  ${summary}`;
    }),
  );
  return [
    `fourfast ${version}: the thrust stand's numbers and records, from a terminal`,
    "",
    "  fourfast <verb> [flags]        do it; messages go to standard error",
    "  fourfast <verb> --help         flags and examples",
    "  fourfast --version",
    "",
    ...lines,
    "",
    "Exit code: 0 fine, 1 the input is at fault (every issue is listed), 2 wrong usage.",
    "",
  ].join("\n");
}
