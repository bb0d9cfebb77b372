import type { Result } from "../../core/result.ts";
import type { RunSummary } from "../ports.ts";
import { Notice } from "./notice.tsx";

type Props = {
  readonly runs: Result<readonly RunSummary[]> | undefined;
  readonly address: (log: string) => string;
};

/** Runs that wait for their end come first: whatever a closed app left open is not forgotten. */
export function RunList({ runs, address }: Props) {
  if (!runs) return <p>Looking for runs on this device …</p>;
  if (!runs.ok) return <Notice issues={runs.issues} />;
  const newest = runs.value.toSorted((a, b) => Number(b.open) - Number(a.open) || b.openedAt - a.openedAt);
  if (newest.length === 0) return <p class="empty">No run on this device yet.</p>;
  return (
    <section aria-labelledby="runs">
      <h2 id="runs">Runs on this device</h2>
      <ul class="runs">
        {newest.map((run) => (
          <li key={run.log} class={run.open ? "open" : ""}>
            <a href={address(run.log)}>
              <b class="number">{run.code}</b> {run.rigName}
              <span>
                {new Date(run.openedAt).toLocaleString([], { dateStyle: "medium", timeStyle: "short" })} ·{" "}
                {run.open ? "OPEN: go on" : "ended"}
              </span>
            </a>
          </li>
        ))}
      </ul>
    </section>
  );
}
