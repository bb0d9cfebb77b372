import type { Issue } from "../../core/result.ts";
import { issueLine } from "../text.ts";

/** What went wrong and what to do, until the next try. */
export function Notice({ issues }: { readonly issues: readonly Issue[] }) {
  return (
    <ul class="start-notice" role="alert">
      {issues.map(issueLine).map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ul>
  );
}
