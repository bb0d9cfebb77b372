import { parseProcedure } from "../procedure/parse-procedure.ts";
import type { WrittenDocuments } from "../procedure/rig-numbers.ts";
import { failed, ok, placedIn, type Result } from "../result.ts";
import { parseRig } from "../rig/parse-rig.ts";
import { completed, type NamedText, partsOf } from "./stand-parts.ts";

/**
 * Reads a stand's file without judging it: for one that was judged when it was kept.
 * @fails stand-unreadable, what `parseRig` and `parseProcedure` fail with
 */
export function parseStand(file: NamedText): Result<WrittenDocuments> {
  const parts = partsOf(file);
  if (!parts.ok) return parts;
  const whole = completed(parts.value, []);
  if (!whole.ok) return whole;
  const [rig, written] = [parseRig(whole.value.rig.json), parseProcedure(whole.value.procedure.json)];
  if (rig.ok && written.ok) return ok({ rig: rig.value, written: written.value });
  return failed(
    ...(rig.ok ? [] : placedIn(whole.value.rig.from, rig.issues)),
    ...(written.ok ? [] : placedIn(whole.value.procedure.from, written.issues)),
  );
}
