import type { Procedure } from "../../core/procedure/procedure.ts";
import type { WrittenDocuments } from "../../core/procedure/rig-numbers.ts";
import type { Rig } from "../../core/rig/rig.ts";
import procedureHeron from "./procedure-heron.json";
import procedureKingfisher from "./procedure-kingfisher.json";
import rigHeron from "./rig-heron.json";
import rigKingfisher from "./rig-kingfisher.json";

/**
 * The two invented stands of the invented Larkmoor College, with the procedure of each. The JSON is
 * what a team would write; that it satisfies the schemas and the linter is tested, not checked again
 * on every phone, so that the stand face carries no validator for documents of our own.
 */
// TypeScript widens the strings of a JSON import; tests/app/demo parses the same files strictly.
export const WRITTEN_HERON: WrittenDocuments = {
  rig: rigHeron as Rig,
  written: procedureHeron as unknown as Procedure,
};
export const WRITTEN_KINGFISHER: WrittenDocuments = {
  rig: rigKingfisher as Rig,
  written: procedureKingfisher as unknown as Procedure,
};

export const WRITTEN: readonly WrittenDocuments[] = [WRITTEN_HERON, WRITTEN_KINGFISHER];
