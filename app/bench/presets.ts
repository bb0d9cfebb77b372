import type { Preferences } from "../ports.ts";
import type { FileSettings } from "./bench-record.ts";

/** How files of one recorder are read, remembered on this device under what its files have in common. */
export type Preset = { readonly settings: FileSettings };

const keyOf = (signature: string) => `recorder.${signature}`;

export function readPreset(preferences: Preferences, signature: string): Preset | undefined {
  const stored = preferences.read(keyOf(signature));
  if (stored === undefined) return undefined;
  try {
    const settings: unknown = JSON.parse(stored);
    return typeof settings === "object" && settings !== null
      ? { settings: settings as FileSettings }
      : undefined;
  } catch {
    return undefined;
  }
}

export function writePreset(preferences: Preferences, signature: string, settings: FileSettings): void {
  preferences.write(keyOf(signature), JSON.stringify(settings));
}
