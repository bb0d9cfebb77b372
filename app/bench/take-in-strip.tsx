import type { ComponentType } from "preact";
import { useEffect, useState } from "preact/hooks";
import { runFileName } from "../../core/exchange/run-file.ts";
import { FileButton } from "../widgets/file-button.tsx";
import { sentence } from "../widgets/quantity-field.tsx";
import type { Desk } from "./desk.ts";
import { type Incoming, incomingFile, incomingOf, pasted } from "./take-in.ts";

/** What reads codes tells here: a run file that a phone showed, and its run's code. */
export type ReadCodesProps = {
  readonly onText: (text: string, code: string) => void;
  readonly onClose: () => void;
};

/** Where files come in: dropped anywhere on the page, chosen, pasted as text, or read from a phone's screen; with what is under way and what went wrong. */
export function TakeInStrip({
  desk,
  ReadCodes,
  onDemo,
}: {
  readonly desk: Desk;
  readonly ReadCodes: ComponentType<ReadCodesProps>;
  readonly onDemo: (() => void) | undefined;
}) {
  const [over, setOver] = useState(false);
  const [reading, setReading] = useState(false);
  const take = (incoming: readonly Incoming[]) => {
    if (incoming.length > 0) void desk.takeIn(incoming);
  };
  usePageDrop(take, setOver);
  return (
    <section class="take-in no-print" data-over={over} aria-label="Bring in files">
      <div class="button-row">
        <FileButton
          multiple
          class="button go take-in-choose"
          onFiles={(files) => take(files.map(incomingFile))}
        >
          Choose files
        </FileButton>
        <PasteBox onText={(text) => take([pasted(text)])} />
        {!reading && (
          <button type="button" class="button" onClick={() => setReading(true)}>
            Read codes with the camera
          </button>
        )}
        {onDemo && (
          <button type="button" class="button" onClick={onDemo}>
            Open the demo term
          </button>
        )}
        <span class="lead">or drop run files and force files anywhere on this page</span>
      </div>
      {reading && (
        <ReadCodes
          onText={(text, code) => {
            setReading(false);
            take([{ name: runFileName({ run: code }), bytes: new Blob([text]) }]);
          }}
          onClose={() => setReading(false)}
        />
      )}
      <UnderWay desk={desk} />
      <Rejections desk={desk} />
    </section>
  );
}

function usePageDrop(take: (incoming: readonly Incoming[]) => void, setOver: (over: boolean) => void) {
  useEffect(() => {
    const drag = (event: DragEvent) => {
      event.preventDefault();
      setOver(event.type === "dragover");
    };
    const drop = (event: DragEvent) => {
      event.preventDefault();
      setOver(false);
      if (event.dataTransfer) take(incomingOf(event.dataTransfer));
    };
    addEventListener("dragover", drag);
    addEventListener("dragleave", drag);
    addEventListener("drop", drop);
    return () => {
      removeEventListener("dragover", drag);
      removeEventListener("dragleave", drag);
      removeEventListener("drop", drop);
    };
  });
}

function PasteBox({ onText }: { readonly onText: (text: string) => void }) {
  const [open, setOpen] = useState(false);
  const [text, setText] = useState("");
  if (!open)
    return (
      <button type="button" class="button" onClick={() => setOpen(true)}>
        Paste text
      </button>
    );
  return (
    <form
      class="take-in-paste"
      onSubmit={(event) => {
        event.preventDefault();
        onText(text);
        setText("");
        setOpen(false);
      }}
    >
      <label>
        A run file or a force record as text
        <textarea rows={5} value={text} onInput={(event) => setText(event.currentTarget.value)} />
      </label>
      <div class="button-row">
        <button type="submit" class="button go" aria-disabled={text.trim() === ""}>
          Take it in
        </button>
        <button type="button" class="button" onClick={() => setOpen(false)}>
          Cancel
        </button>
      </div>
    </form>
  );
}

function UnderWay({ desk }: { readonly desk: Desk }) {
  return (
    <div role="status">
      {desk.work.busy.value.map(({ id, what, part, stop }) => (
        <p key={id} class="under-way">
          <span>{what}</span>
          <progress value={part} max={1} aria-label={what} />
          <button type="button" class="button small" onClick={stop}>
            Stop
          </button>
        </p>
      ))}
    </div>
  );
}

/** What could not be taken in stays here, with every place, until somebody has read it. */
function Rejections({ desk }: { readonly desk: Desk }) {
  return (
    <>
      {desk.rejected.value.map(({ id, name, issues }) => (
        <div key={id} class="rejection" role="alert">
          <p>
            <b>{name}</b> was not taken in.{" "}
            <button type="button" class="button small" onClick={() => desk.dismiss(id)}>
              Put away
            </button>
          </p>
          <IssueList issues={issues} />
        </div>
      ))}
    </>
  );
}

type Told = {
  readonly where: string;
  readonly detail: string;
  readonly remedy: string;
  readonly code: string;
};

/** Each with its place, what was found there, and what to do. */
export function IssueList({ issues }: { readonly issues: readonly Told[] }) {
  return (
    <ul class="issues">
      {issues.map((one, i) => (
        <li key={i}>
          <span class="issue-where">{one.where}</span>: {sentence(one.detail)} {sentence(one.remedy)}
        </li>
      ))}
    </ul>
  );
}
