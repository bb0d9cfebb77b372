import { type Issue, issue } from "../result.ts";
import { ageAtMost_ms } from "./clock.ts";
import { type Doc, keysOf, type Snapshot } from "./context.ts";
import { type FactRow, factRow } from "./facts.ts";
import type { Act } from "./vocabulary.ts";

/** Why a permission is refused: code is a fact's or a rule's id, where is the permission. */
export type Missing = Issue;

const missingFact = (doc: Doc, snapshot: Snapshot, row: FactRow, act: Act): readonly Missing[] => {
  const gate = act.event.type;
  const need = row.needs.find((candidate) => candidate.gate === gate);
  if (!need || (row.onlyFor !== undefined && row.onlyFor !== doc.rig.emptying.kind)) return [];
  const { facts } = snapshot.context;
  const standIn = row.standIn && factRow(doc.facts, row.standIn);
  if (standIn && facts[standIn.id]) return [];
  return keysOf(doc, row).flatMap((key) => {
    const standing = facts[key];
    const restraint = key.split(":")[1];
    const words = restraint === undefined ? row.words : `${restraint} ${row.words}`;
    if (!standing) return [issue(key, gate, `not proved: ${words}`, row.remedy)];
    const stale =
      need.within !== undefined && ageAtMost_ms(standing, act) > doc.rig.limits[need.within] * 1000;
    return stale ? [issue(key, gate, `too long ago: ${words}`, row.remedy)] : [];
  });
};

/**
 * All that keeps this permission from being given; empty means that it is open. It is both the
 * chart's guard and, in words, the refusal: the two cannot drift apart.
 */
export const missing = (doc: Doc, snapshot: Snapshot, act: Act): readonly Missing[] => [
  ...doc.rules
    .filter(
      (rule) => (rule.at as readonly string[]).includes(act.event.type) && !rule.holds(doc, snapshot, act),
    )
    .map((rule) => issue(rule.id, act.event.type, rule.words, rule.remedy)),
  ...doc.facts.flatMap((row) => missingFact(doc, snapshot, row, act)),
];
