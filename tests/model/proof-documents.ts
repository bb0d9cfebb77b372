import { SHIPPED } from "../../app/demo/documents.ts";
import { generated, withRestraints } from "./generated-procedures.ts";
import type { Documents } from "./independent-model.ts";
import { Luck } from "./luck.ts";
import { inOneGo, smallRig, stepByStep } from "./small-documents.ts";

/** The shipped procedures, and as many again with four restraints that were generated and passed the linter. */
export const proofDocuments = (seed: number, generatedCount: number): readonly Documents[] => {
  const luck = new Luck(seed);
  const made = Array.from({ length: generatedCount }, (_, i): Documents => {
    const base = SHIPPED[i % SHIPPED.length] as Documents;
    return generated({ rig: withRestraints(base.rig, 4), procedure: base.procedure }, luck, 60).documents;
  });
  return [...SHIPPED, ...made];
};

/** For the mutants: small stands as well, on which every odd corner is near. */
export const bankDocuments = (seed: number): readonly Documents[] => {
  const small = (["vent", "release"] as const).flatMap((emptying): readonly Documents[] => {
    const rig = smallRig({ restraints: 2, emptying });
    return [
      { rig, procedure: stepByStep(rig) },
      { rig, procedure: inOneGo(rig) },
    ];
  });
  return [...small, ...proofDocuments(seed, 2)];
};
