import { fieldTable } from "./fields.ts";
import { hazardsPage } from "./hazards.ts";
import { issueCodeTables } from "./issue-codes.ts";
import { lintRuleTable, theoremTable } from "./lint-rules.ts";
import { type Page, withBlocks } from "./page.ts";
import { procedureJsonSchema, rigJsonSchema, schemaPages } from "./schemas.ts";
import { setupChannelTable, setupTable } from "./setup.ts";
import { permissionTable, reportTable } from "./vocabulary.ts";

/** Everything in docs/ that is printed from the code. */
export const printedPages = (): readonly Page[] => [
  hazardsPage(),
  ...schemaPages(),
  withBlocks("docs/formats.md", {
    "rig fields": fieldTable(rigJsonSchema()),
    "procedure fields": fieldTable(procedureJsonSchema()),
    permissions: permissionTable(),
    reports: reportTable(),
    "setup keys": setupTable(),
    "channel keys": setupChannelTable(),
    "issue codes": issueCodeTables(),
  }),
  withBlocks("docs/writing-procedures.md", { rules: lintRuleTable(), theorems: theoremTable() }),
];
