import type { Procedure } from "../../core/procedure/procedure.ts";
import { type WrittenDocuments, withRigNumbers } from "../../core/procedure/rig-numbers.ts";
import type { Rig } from "../../core/rig/rig.ts";
import { WRITTEN_HERON, WRITTEN_KINGFISHER } from "./written.ts";

/** The shipped stands with the numbers of each in its procedure: what a run goes by that no plan asked for. */
export type Documents = { readonly rig: Rig; readonly procedure: Procedure };

const asRead = ({ rig, written }: WrittenDocuments): Documents => ({
  rig,
  procedure: withRigNumbers(written, rig),
});

export const HERON: Documents = asRead(WRITTEN_HERON);
export const KINGFISHER: Documents = asRead(WRITTEN_KINGFISHER);

export const SHIPPED: readonly Documents[] = [HERON, KINGFISHER];
