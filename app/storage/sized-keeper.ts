/** What of localStorage is used: any text keeper with the same five words will do. */
export type TextKeeper = Pick<Storage, "getItem" | "setItem" | "removeItem" | "key" | "length">;

/** The part of a text keeper under one prefix, with a running count of what it takes. */
export type SizedKeeper = {
  readonly keys: (start: string) => readonly string[];
  readonly get: (key: string) => string | undefined;
  readonly set: (key: string, text: string) => void;
  readonly remove: (key: string) => void;
  /** Characters, keys included. */
  readonly used: () => number;
};

export const sizedKeeper = (keeper: TextKeeper, prefix: string): SizedKeeper => {
  const keys = (start: string): readonly string[] =>
    Array.from({ length: keeper.length }, (_, i) => keeper.key(i) ?? "")
      .filter((key) => key.startsWith(prefix + start))
      .map((key) => key.slice(prefix.length));
  const get = (key: string): string | undefined => keeper.getItem(prefix + key) ?? undefined;
  const size = (key: string, text: string | undefined): number =>
    text === undefined ? 0 : prefix.length + key.length + text.length;

  // Counted once, then kept: reading everything back at each tap would cost the tap.
  let used = keys("").reduce((sum, key) => sum + size(key, get(key)), 0);

  return {
    keys,
    get,
    used: () => used,
    set: (key, text) => {
      const before = size(key, get(key));
      keeper.setItem(prefix + key, text);
      used += size(key, text) - before;
    },
    remove: (key) => {
      used -= size(key, get(key));
      keeper.removeItem(prefix + key);
    },
  };
};
