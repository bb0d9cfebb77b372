import { useEffect, useRef, useState } from "preact/hooks";
import type { ReadStand } from "../../core/exchange/read-stand.ts";
import { type StandChange, standChanges } from "../../core/exchange/stand-changes.ts";
import type { WrittenDocuments } from "../../core/procedure/rig-numbers.ts";
import type { Issue } from "../../core/result.ts";
import type { Rig } from "../../core/rig/rig.ts";
import { Issues } from "../widgets/issues.tsx";
import { CodeField } from "../widgets/reading-field.tsx";
import { StandNumbers } from "./stand-numbers.tsx";

type Props = {
  readonly read: ReadStand;
  /** The version that this device goes by now. */
  readonly before: WrittenDocuments | undefined;
  readonly onKeep: () => void;
  /** Somebody read it, with its warnings, and puts a code under it. */
  readonly onApprove: (by: string) => void;
  /** Why the approval that was tried does not count. */
  readonly refused: readonly Issue[];
  /** The other stands of this device. */
  readonly others: readonly WrittenDocuments[];
  readonly onLeave: () => void;
};

/** What was read, for a person to look at before crews go by it. */
export function CheckStand({ read, before, others, refused, onKeep, onApprove, onLeave }: Props) {
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
        The numbers and limits are its owner's: <b>{rig.owner}</b>. The procedure was approved by{" "}
        <b>{approver}</b>.
      </p>
      {waits.length > 0 && (
        <>
          <p class="stand-waits">No run can be started on it as it is:</p>
          <Issues placed issues={waits} />
        </>
      )}
      <Alike rig={rig} others={others} />
      {changes && <Changes changes={changes} />}
      <StandNumbers documents={documents} />
      {warnings.length > 0 && (
        <details open={written.approvedBy === undefined}>
          <summary>
            {warnings.length === 1 ? "One warning" : `${warnings.length} warnings`}, accepted by{" "}
            {written.approvedBy ?? "whoever approves it"}
          </summary>
          <Issues placed issues={warnings} />
        </details>
      )}
      {written.approvedBy === undefined && (
        <Approval author={written.author} refused={refused} onApprove={onApprove} />
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

/** Two stands that sound alike are taken for one another; phones that hold one each give out the same codes. */
function Alike({ rig, others }: { readonly rig: Rig; readonly others: readonly WrittenDocuments[] }) {
  const letters = others.filter((other) => other.rig.letter === rig.letter).map((other) => other.rig.name);
  const names = others.some((other) => other.rig.name.toUpperCase() === rig.name.toUpperCase());
  return (
    <>
      {letters.length > 0 && (
        <p class="stand-waits">
          Its letter {rig.letter} is also that of {letters.join(", ")}: on phones with one of them each, codes
          of runs may repeat.
        </p>
      )}
      {names && <p class="stand-waits">Another stand of this device has the same name.</p>}
    </>
  );
}

type ApprovalProps = {
  readonly author: string;
  readonly refused: readonly Issue[];
  readonly onApprove: (by: string) => void;
};

function Approval({ author, refused, onApprove }: ApprovalProps) {
  const [by, setBy] = useState("");
  const approve = () => by !== "" && onApprove(by);
  return (
    <form
      onSubmit={(event) => {
        event.preventDefault();
        approve();
      }}
    >
      <CodeField
        label={
          <>
            Approved by <small>anybody but {author}, who wrote it</small>
          </>
        }
        value={by}
        last
        onInput={setBy}
        onDone={approve}
      />
      {refused.length > 0 && (
        <div role="alert">
          <Issues placed issues={refused} />
        </div>
      )}
      <button type="submit" class="button" aria-disabled={by === "" ? "true" : undefined}>
        Approve it
      </button>
    </form>
  );
}

function Changes({ changes }: { readonly changes: readonly StandChange[] }) {
  if (changes.length === 0) return <p>It is what this device goes by already.</p>;
  return (
    <div class="stand-changes">
      <h3>What changes, in {changes.length === 1 ? "one place" : `${changes.length} places`}</h3>
      <dl>
        {changes.map((change) => (
          <div key={change.where}>
            <dt>{change.where}</dt>
            <dd>{changeWords(change)}</dd>
          </div>
        ))}
      </dl>
    </div>
  );
}

const changeWords = ({ before, after }: StandChange): string => {
  if (before === undefined) return `new: ${after}`;
  return after === undefined ? `gone: ${before}` : `from ${before} to ${after}`;
};
