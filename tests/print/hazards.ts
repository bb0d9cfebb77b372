import { HAZARDS, type Hazard } from "../../core/procedure/hazards.ts";
import { FACTS } from "../../core/sequence/facts.ts";
import { HAZARD_ANSWERS } from "./hazard-answers.ts";
import { code, type Page, table } from "./page.ts";

const factsOf = (id: string): readonly string[] =>
  FACTS.filter(({ hazards }) => hazards.includes(id)).map((row) => row.id);

const line = (name: string, list: readonly string[]): readonly string[] =>
  list.length > 0 ? [`- ${name}: ${list.map(code).join(", ")}`] : [];

const section = (hazard: Hazard): string => {
  const { rules = [], lint = [], screens = [], tests } = HAZARD_ANSWERS[hazard.id] ?? { tests: [] };
  return [
    `### ${hazard.id}. ${hazard.failure}`,
    "",
    `${hazard.effect}. Severity ${hazard.severity}, likelihood ${hazard.likelihood}.`,
    "",
    `- Prevent: ${hazard.prevent}.`,
    `- Detect: ${hazard.detect}.`,
    `- Respond: ${hazard.respond}.`,
    ...line("Facts", factsOf(hazard.id)),
    ...line("Rules of the sequence", rules),
    ...line("Rules of the linter", lint),
    ...line("Screens", screens),
    ...line("Tests", tests),
  ].join("\n");
};

const voids = (row: (typeof FACTS)[number]): string => {
  const direct = row.voids.map(({ on, when }) => (when ? `${on} (${when})` : on));
  return [...direct, ...(row.after ? [`whatever voids ${row.after}`] : [])].join(", ") || "–";
};

const factTable = (): string =>
  table(
    ["fact", "means", "proved while", "needed at", "voided by", "hazards"],
    FACTS.map((row) => [
      code(row.id),
      row.words,
      [...row.home, ...(row.by ? [code(row.by)] : [])].join(", "),
      row.needs.map(({ gate, within }) => (within ? `${gate} (fresh: ${within})` : gate)).join(", ") || "–",
      voids(row),
      row.hazards.join(", "),
    ]),
  );

/** docs/hazards.md, whole. */
export const hazardsPage = (): Page => ({
  path: "docs/hazards.md",
  text: `# Hazards

Printed by \`npm run print\` from [the hazards](../core/procedure/hazards.ts), [the facts](../core/sequence/facts.ts) and [what answers them](../tests/print/hazard-answers.ts); a test keeps it current. Local rules and a responsible person's word go before it.

Severity: 5 lasting injury, 4 injury needing treatment, 3 bruise or damage, 2 lost test, 1 nuisance. Likelihood, before any control: 5 each day, 4 each week, 3 some runs a term, 2 rare, 1 not seen. Both are our own judgement; there are no statistics of such stands.

${HAZARDS.map(section).join("\n\n")}

## What voids what

A fact falls as well when its phase is entered again, and when the run enters a state in which it cannot stand.

${factTable()}
`,
});
