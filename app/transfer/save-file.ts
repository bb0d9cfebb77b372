import { ok, type Result } from "../../core/result.ts";
import type { Handed } from "../ports.ts";

/** Saves a text to the device's downloads. Not for an iOS home-screen app, where it is a trap (FIELD). */
export function saveFile(name: string, text: string): Result<Handed> {
  const address = URL.createObjectURL(new Blob([text], { type: "text/plain" }));
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  link.click();
  // The browser reads it after this turn; a minute is long enough for any disk.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
  return ok("handed");
}
