/** Our own mistakes throw; only the session boundary and the worker edge catch them. */
export class AssertionError extends Error {
  override readonly name = "AssertionError";
}

export function assert(condition: unknown, why: string): asserts condition {
  if (!condition) throw new AssertionError(why);
}

/** Closes a switch over a union: a forgotten case fails to compile. */
export function unreachable(value: never): never {
  throw new AssertionError(`unreachable case: ${JSON.stringify(value)}`);
}
