import { SHIPPED } from "../../app/demo/documents.ts";
import { generated, withRestraints } from "./generated-procedures.ts";
import type { Documents } from "./independent-model.ts";
import { Luck } from "./luck.ts";
import { everyForm, inOneGo, type SmallRig, smallRig } from "./small-documents.ts";

/** The shipped procedures, and as many again with four restraints that were generated and passed the linter. */
export const proofDocuments = (seed: number, generatedCount: number): readonly Documents[] => {
  const luck = new Luck(seed);
  const made = Array.from({ length: generatedCount }, (_, i): Documents => {
    const base = SHIPPED[i % SHIPPED.length] as Documents;
    return generated({ rig: withRestraints(base.rig, 4), procedure: base.procedure }, luck, 60).documents;
  });
  return [...SHIPPED, ...made];
};

/** Small stands on which every form of step turns up in every stage. */
const everyFormStands = (restraints: SmallRig["restraints"]): readonly Documents[] =>
  (["vent", "release"] as const).map((emptying) => {
    const rig = smallRig({ restraints, emptying, bottleGauge: true });
    return { rig, procedure: everyForm(rig) };
  });

/** For the random runs: one in five on a small stand, where a form that the others have nowhere near is at hand. */
export const randomDocuments = (seed: number): readonly Documents[] => {
  const small = everyFormStands(4);
  return [...proofDocuments(seed, 14), ...small, ...small];
};

/**
 * For the mutants: small stands as well, on which every odd corner is near. The first two are the ones
 * to be gone through word by word; one is out of service.
 */
export const bankDocuments = (seed: number): readonly Documents[] => {
  const everyForms = everyFormStands(2);
  const tagged = smallRig({ restraints: 2, emptying: "vent" });
  return [
    ...everyForms,
    ...everyForms.map(({ rig }) => ({ rig, procedure: inOneGo(rig) })),
    { rig: { ...tagged, service: { in: false, tag: "worn" } }, procedure: inOneGo(tagged) },
    ...proofDocuments(seed, 4),
  ];
};
