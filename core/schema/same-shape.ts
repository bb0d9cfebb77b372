/**
 * A type and its schema are written apart, so that reading a type needs no validator; this makes
 * the compiler refuse a field that is in one and not in the other.
 */
export type DeepReadonly<T> = T extends (infer Item)[]
  ? readonly DeepReadonly<Item>[]
  : T extends object
    ? { readonly [K in keyof T]: DeepReadonly<T[K]> }
    : T;

export type SameShape<A, B> = [A] extends [B] ? ([B] extends [A] ? true : never) : never;
