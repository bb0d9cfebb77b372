/**
 * Who does what, and who may not be the same person. The caller is indoors, so is nobody else;
 * the conductor holds the phone and has seen the first answers, so cannot verify; whoever releases
 * does not hold the phone (SAFETY A34); the installer never verifies (SAFETY, crews).
 */
export const ROLES = ["conductor", "installer", "verifier", "releaser", "caller"] as const;
export type Role = (typeof ROLES)[number];

export type RolePair = readonly [Role, Role];

export const MUST_DIFFER: readonly RolePair[] = [
  ["installer", "verifier"],
  ["conductor", "verifier"],
  ["conductor", "releaser"],
  ["caller", "conductor"],
  ["caller", "installer"],
  ["caller", "verifier"],
  ["caller", "releaser"],
];

/** The role, held before, that keeps a person from taking `role`; undefined when none does. */
export const conflictingRole = (
  mustDiffer: readonly RolePair[],
  held: readonly Role[],
  role: Role,
): Role | undefined =>
  held.find((other) =>
    mustDiffer.some(([a, b]) => (a === role && b === other) || (b === role && a === other)),
  );
