import type { Preferences } from "../ports.ts";

const prefix = "fourfast.choice.";

/** In localStorage; a browser that refuses it forgets the choices and nothing else. */
export function localPreferences(storage: Storage): Preferences {
  return {
    read: (key) => {
      try {
        return storage.getItem(prefix + key) ?? undefined;
      } catch {
        return undefined;
      }
    },
    write: (key, value) => {
      try {
        storage.setItem(prefix + key, value);
      } catch {
        // A full or refused storage: the choice holds until the page is left.
      }
    },
  };
}
