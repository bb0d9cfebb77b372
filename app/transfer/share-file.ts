import { failed, issue, ok, type Result } from "../../core/result.ts";
import type { Handed } from "../ports.ts";

/**
 * Hands a text to the share sheet. Called in the tap itself, with everything made before: browsers open the sheet
 * only then. The name ends in .txt, since few other kinds pass (FIELD: phone to laptop).
 * @fails share-refused
 */
export async function shareFile(name: string, text: string): Promise<Result<Handed>> {
  const files = [new File([text], name, { type: "text/plain" })];
  if (!navigator.canShare?.({ files })) return ok("not-supported");
  try {
    await navigator.share({ files, title: name });
    return ok("handed");
  } catch (fault) {
    if (fault instanceof DOMException && fault.name === "AbortError") return ok("cancelled");
    const detail = fault instanceof Error ? fault.message : "no reason given";
    return failed(issue("share-refused", name, detail, "Save the file instead, or copy it."));
  }
}
