/** A JSON text with other values at some places: { "rig.bottle.limit_Pa": 4e5 }; undefined takes a field out. */
export const editJson = (text: string, edits: Readonly<Record<string, unknown>>): string => {
  const root: unknown = JSON.parse(text);
  for (const [path, value] of Object.entries(edits)) {
    const keys = path.split(".");
    const last = keys.pop() ?? "";
    const owner = keys.reduce((at, key) => (at as Record<string, unknown>)[key], root) as Record<
      string,
      unknown
    >;
    if (value === undefined) delete owner[last];
    else owner[last] = value;
  }
  return JSON.stringify(root);
};
