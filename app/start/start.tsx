import { useEffect, useState } from "preact/hooks";
import type { Result } from "../../core/result.ts";
import type { ReadinessItem, RunDocuments, RunSummary, UpdateControl } from "../ports.ts";
import { issueWords } from "../text.ts";
import { Button } from "../widgets/button.tsx";
import { Notice } from "./notice.tsx";
import { ReadinessCard } from "./readiness-card.tsx";
import { RunList } from "./run-list.tsx";
import "./start.css";

export type StartProps = {
  readonly documents: readonly RunDocuments[];
  readonly runs: () => Promise<Result<readonly RunSummary[]>>;
  /** Opens the new run at its own address, or says why not. */
  readonly begin: (documents: RunDocuments, drill: boolean) => Promise<Result<void>>;
  readonly readiness: () => Promise<readonly ReadinessItem[]>;
  readonly updates: UpdateControl;
  readonly faces: readonly Face[];
  readonly standAddress: (log: string) => string;
  readonly cardAddress: (rig: string) => string;
  readonly version: string;
};

export type Face = { readonly name: string; readonly what: string; readonly address: string };

/** Where the app opens: it works at once on the browser's own storage. */
export function Start(props: StartProps) {
  const [runs, setRuns] = useState<Result<readonly RunSummary[]>>();
  useEffect(() => {
    void props.runs().then(setRuns);
  }, []);
  const hasOpen = runs?.ok === true && runs.value.some(({ open }) => open);
  const list = <RunList runs={runs} address={props.standAddress} />;
  return (
    <div class="start">
      <header class="start-head">
        <p class="mark" aria-hidden="true">
          <i />
          <i />
          <i />
          <i />
        </p>
        <div>
          <h1>Fourfast</h1>
          <p>Every restraint made fast before the air goes on.</p>
        </div>
      </header>
      <main>
        <UpdateNotice updates={props.updates} />
        {hasOpen && list}
        <Begin {...props} hasOpen={hasOpen} />
        {!hasOpen && list}
        {props.faces.length > 0 && (
          <nav aria-label="Other faces" class="faces">
            {props.faces.map(({ name, what, address }) => (
              <a key={address} href={address}>
                <b>{name}</b> {what}
              </a>
            ))}
          </nav>
        )}
        <ReadinessCard probe={props.readiness} />
        <p class="caution">
          Local codes, the site's rules and a responsible person's word go before this tool. Limits are the
          rig owner's.
        </p>
        <p class="version">Version {props.version}</p>
      </main>
    </div>
  );
}

type BeginProps = Pick<StartProps, "documents" | "begin" | "cardAddress"> & { readonly hasOpen: boolean };

/** A run on a stand, or the same sequence as a drill with no stand at all. */
function Begin({ documents, begin, cardAddress, hasOpen }: BeginProps) {
  const [faults, setFaults] = useState<readonly string[]>([]);
  const start = async (chosen: RunDocuments, drill: boolean) => {
    const begun = await begin(chosen, drill);
    if (!begun.ok) setFaults(begun.issues.map(issueWords).map(({ what, todo }) => `${what} ${todo}`));
  };
  const [demo] = documents;
  return (
    <section aria-labelledby="begin">
      <h2 id="begin">Start a run</h2>
      {hasOpen && (
        <p class="start-caution">A run is open. If air may be on its stand, go on with that one.</p>
      )}
      {faults.length > 0 && <Notice lines={faults} />}
      <ul class="stands">
        {documents.map((one) => (
          <li key={one.rig.id}>
            <StandChoice
              documents={one}
              card={cardAddress(one.rig.id)}
              onBegin={() => void start(one, false)}
            />
          </li>
        ))}
      </ul>
      {demo && (
        <div class="start-row">
          <Button critical onPress={() => void start(demo, true)}>
            Try the demo: a drill, no stand needed
          </Button>
        </div>
      )}
    </section>
  );
}

type ChoiceProps = { readonly documents: RunDocuments; readonly card: string; readonly onBegin: () => void };

function StandChoice({ documents, card, onBegin }: ChoiceProps) {
  const { rig, procedure } = documents;
  return (
    <>
      <p>
        <b>{rig.name}</b>
        <br />
        {procedure.title}, revision {procedure.revision}
        <br />
        <a href={card}>Paper card</a>
        {!rig.service.in && <strong> Out of service: {rig.service.tag}</strong>}
      </p>
      <Button look="go" critical onPress={onBegin}>
        Start
      </Button>
    </>
  );
}

/** Shown only when it can be done: never while a run is open on this device. */
function UpdateNotice({ updates }: { readonly updates: UpdateControl }) {
  const [state, setState] = useState(updates.state());
  useEffect(() => updates.subscribe(setState), [updates]);
  if (state !== "ready" && state !== "replaced") return null;
  return (
    <div class="start-notice">
      <p>{state === "ready" ? "A newer version is on this device." : "Another page updated the app."}</p>
      <Button onPress={() => void updates.apply()}>Use it now</Button>
    </div>
  );
}
