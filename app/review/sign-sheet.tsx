import { useRef, useState } from "preact/hooks";
import type { Issue, Result } from "../../core/result.ts";
import type { RunReview } from "../../core/review/review-run.ts";
import { type SignOff, signOff, type Verdict } from "../../core/review/sign-off.ts";
import { isFinal } from "../../core/sequence/states.ts";
import { Issues } from "../widgets/issues.tsx";
import { CodeField } from "../widgets/reading-field.tsx";
import { agoWords, type CheckedRun, dayOf, VERDICT } from "./signed-words.ts";

type Props = {
  readonly run: CheckedRun;
  readonly review: RunReview;
  /** Of this run, the newest first. */
  readonly signed: readonly SignOff[];
  readonly now_ms: () => number;
  readonly sign: (signed: SignOff) => Promise<Result<SignOff>>;
};

/** The safety officer's word on this run: by somebody who had no part in it, kept beside the log. */
export function SignSheet({ run, review, signed, now_ms, sign }: Props) {
  return (
    <section class="sheet" aria-labelledby="sign-off">
      <h2 id="sign-off">Sign-off</h2>
      {signed.map((one) => (
        <p key={one.at} class="signed">
          <b>
            {one.by}: {VERDICT[one.verdict]}
          </b>
          , {dayOf(one.at)}. {one.note} {agoWords(run, one)}
        </p>
      ))}
      {signed.length === 0 && <p>Nobody has signed this run yet.</p>}
      {isFinal(review.ended) ? (
        <SignForm {...{ run, review, now_ms, sign }} />
      ) : (
        <p>It can be signed when it is closed or scrubbed.</p>
      )}
    </section>
  );
}

function SignForm({ run, review, now_ms, sign }: Omit<Props, "signed">) {
  const [by, setBy] = useState("");
  const [verdict, setVerdict] = useState<Verdict>("nothing-to-do");
  const [note, setNote] = useState("");
  const [issues, setIssues] = useState<readonly Issue[]>([]);
  const [told, setTold] = useState("");
  const busy = useRef(false);
  const submit = async () => {
    // A second tap is not a second signature.
    if (busy.current || (by === "" && note === "" && told !== "")) return;
    busy.current = true;
    const made = signOff(run, review, { by, at: now_ms(), verdict, note });
    const kept = made.ok ? await sign(made.value) : made;
    busy.current = false;
    setIssues(kept.ok ? [] : kept.issues);
    setTold(kept.ok ? `Signed by ${by}.` : "");
    if (!kept.ok) return;
    setNote("");
    setBy("");
  };
  return (
    <form
      class="sign-form no-print"
      onSubmit={(event) => {
        event.preventDefault();
        void submit();
      }}
    >
      <CodeField label="Your code" value={by} last onInput={setBy} onDone={() => void submit()} />
      <fieldset>
        <legend>What is to follow</legend>
        {(["nothing-to-do", "follow-up"] as const).map((one) => (
          <label key={one}>
            <input type="radio" name="verdict" checked={verdict === one} onChange={() => setVerdict(one)} />{" "}
            {VERDICT[one]}
          </label>
        ))}
      </fieldset>
      <label>
        In words
        <textarea rows={3} value={note} onInput={(event) => setNote(event.currentTarget.value)} />
      </label>
      {issues.length > 0 && (
        <div role="alert">
          <Issues class="faults" issues={issues} />
        </div>
      )}
      <button type="submit" class="button">
        Sign this review
      </button>
      <p role="status">{told}</p>
    </form>
  );
}
