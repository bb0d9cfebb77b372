import { useEffect, useRef } from "preact/hooks";
import type { ReadStand } from "../../core/exchange/read-stand.ts";
import { standChanges } from "../../core/exchange/stand-changes.ts";
import type { WrittenDocuments } from "../../core/procedure/rig-numbers.ts";
import type { Issue } from "../../core/result.ts";
import { standDigest } from "../session/kept-stands.ts";
import { issueWords } from "../text.ts";
import { DataTable } from "../widgets/data-table.tsx";
import { StandNumbers } from "./stand-numbers.tsx";

type Props = {
  readonly read: ReadStand;
  /** The version that this device goes by now. */
  readonly before: WrittenDocuments | undefined;
  readonly onKeep: () => void;
  readonly onLeave: () => void;
};

/** What was read, for a person to look at before crews go by it. */
export function CheckStand({ read, before, onKeep, onLeave }: Props) {
  const { documents, warnings, waits } = read;
  const { rig, written } = documents;
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => heading.current?.focus(), [read]);
  const changes = before && standChanges(before, documents);
  const approver = written.approvedBy ?? "nobody yet";
  return (
    <section class="stand-check" aria-labelledby="stand-check">
      <h2 id="stand-check" ref={heading} tabIndex={-1}>
        {rig.name}: look before you keep it
      </h2>
      <p>
        The numbers are {rig.owner}'s, the procedure was approved by <b>{approver}</b>. This tool adds no
        limit of its own.
      </p>
      {waits.length > 0 && <Listed title="No run can be started on it as it is:" issues={waits} />}
      {changes && <Changes changes={changes} />}
      <StandNumbers documents={documents} digest={standDigest(documents)} />
      {warnings.length > 0 && (
        <details>
          <summary>
            {warnings.length === 1 ? "One warning" : `${warnings.length} warnings`}, accepted by {approver}
          </summary>
          <Listed issues={warnings} />
        </details>
      )}
      <div class="button-row">
        <button type="button" class="button go" onClick={onKeep}>
          Keep this stand
        </button>
        <button type="button" class="button" onClick={onLeave}>
          Leave it
        </button>
      </div>
    </section>
  );
}

function Listed({ title, issues }: { readonly title?: string; readonly issues: readonly Issue[] }) {
  return (
    <>
      {title && <p class="stand-waits">{title}</p>}
      <ul>
        {issues.map((one) => {
          const { what, todo } = issueWords(one);
          return (
            <li key={`${one.code} ${one.where}`}>
              <b>{one.where}</b>: {what} {todo}
            </li>
          );
        })}
      </ul>
    </>
  );
}

const NONE = "—";

function Changes({ changes }: { readonly changes: ReturnType<typeof standChanges> }) {
  if (changes.length === 0) return <p>It is what this device goes by already.</p>;
  return (
    <DataTable
      caption={`What changes, in ${changes.length === 1 ? "one place" : `${changes.length} places`}`}
      columns={["Where", "Now", "Then"]}
      rows={changes.map(({ where, before, after }) => ({
        key: where,
        cells: [where, before ?? NONE, after ?? NONE],
      }))}
    />
  );
}
