import type { Procedure } from "../../core/procedure/procedure.ts";
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
export type Documents = { readonly rig: Rig; readonly procedure: Procedure };

// TypeScript widens the strings of a JSON import; tests/app/demo parses the same files strictly.
export const HERON: Documents = { rig: rigHeron as Rig, procedure: procedureHeron as unknown as Procedure };
export const KINGFISHER: Documents = {
  rig: rigKingfisher as Rig,
  procedure: procedureKingfisher as unknown as Procedure,
};

export const SHIPPED: readonly Documents[] = [HERON, KINGFISHER];
