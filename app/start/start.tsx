import { useEffect, useState } from "preact/hooks";
import type { Shot } from "../../core/plan/documents-for-shot.ts";
import type { WrittenDocuments } from "../../core/procedure/rig-numbers.ts";
import type { Issue, Result } from "../../core/result.ts";
import type { ReadinessItem, RunSummary, UpdateControl } from "../ports.ts";
import type { MatrixQueue } from "../session/matrix-queue.ts";
import { Button } from "../widgets/button.tsx";
import { BringPlan, type BringPlanProps } from "./bring-plan.tsx";
import { Notice } from "./notice.tsx";
import { ReadinessCard } from "./readiness-card.tsx";
import { RunList } from "./run-list.tsx";
import { ShotQueue } from "./shot-queue.tsx";
import "./start.css";

export type StartProps = Omit<BringPlanProps, "onKept"> & {
  /** The stands that were brought to this device, and what of them could not be read. */
  readonly ownStands: () => Promise<OwnStands>;
  /** The invented ones that came with the app. */
  readonly shipped: readonly WrittenDocuments[];
  readonly standsAddress: string;
  readonly runs: () => Promise<Result<readonly RunSummary[]>>;
  /** Opens the new run at its own address, or says why not. */
  readonly begin: Begin;
  /** What the matrix that is kept for this stand has still to run; undefined where there is none. */
  readonly queue: (documents: WrittenDocuments) => Promise<Result<MatrixQueue | undefined>>;
  readonly readiness: () => Promise<readonly ReadinessItem[]>;
  readonly updates: UpdateControl;
  readonly faces: readonly Face[];
  readonly standAddress: (log: string) => string;
  readonly cardAddress: (rig: string, shot?: Shot) => string;
  readonly version: string;
};

export type OwnStands = {
  readonly stands: readonly WrittenDocuments[];
  readonly faults: readonly Issue[];
};

/** Without a shot the run goes by the rig's own water and set pressure. */
export type Begin = (
  documents: WrittenDocuments,
  how: { readonly drill: boolean; readonly shot?: Shot },
) => Promise<Result<void>>;

export type Face = { readonly name: string; readonly what: string; readonly address: string };

/** Where the app opens: it works at once on the browser's own storage. */
export function Start(props: StartProps) {
  const [runs, setRuns] = useState<Result<readonly RunSummary[]>>();
  const [plans, setPlans] = useState(0);
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
        <BeginRun key={plans} {...props} hasOpen={hasOpen} />
        {!hasOpen && list}
        <BringPlan {...props} onKept={() => setPlans(plans + 1)} />
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

type BeginProps = Pick<
  StartProps,
  "ownStands" | "shipped" | "standsAddress" | "begin" | "queue" | "cardAddress"
> & {
  readonly hasOpen: boolean;
};

/** A run on a stand, or the same sequence as a drill with no stand at all. */
function BeginRun({ ownStands, shipped, standsAddress, begin, queue, cardAddress, hasOpen }: BeginProps) {
  const [own, setOwn] = useState<OwnStands>();
  const [faults, setFaults] = useState<readonly Issue[]>([]);
  useEffect(() => {
    void ownStands().then(setOwn);
  }, []);
  const start: Begin = async (chosen, how) => {
    const begun = await begin(chosen, how);
    if (!begun.ok) setFaults(begun.issues);
    return begun;
  };
  const list = { begin: start, queue, cardAddress };
  const [demo] = shipped;
  return (
    <section aria-labelledby="begin">
      <h2 id="begin">Start a run</h2>
      {hasOpen && (
        <p class="start-caution">A run is open. If air may be on its stand, go on with that one.</p>
      )}
      {faults.length > 0 && <Notice issues={faults} />}
      {own && own.faults.length > 0 && <Notice issues={own.faults} />}
      {own ? (
        <>
          {own.stands.length > 0 && <StandList {...list} stands={own.stands} withDrill />}
          {own.stands.length > 0 && <h3>Invented stands</h3>}
          {demo && (
            <div class="start-row">
              <Button critical onPress={() => void start(demo, { drill: true })}>
                Try the demo: a drill, no stand needed
              </Button>
            </div>
          )}
          <StandList {...list} stands={shipped} />
        </>
      ) : (
        <p>Looking for stands on this device …</p>
      )}
      <a href={standsAddress}>Your own stand: bring in its rig and procedure</a>
    </section>
  );
}

type ListProps = Pick<StartProps, "begin" | "queue" | "cardAddress"> & {
  readonly stands: readonly WrittenDocuments[];
  readonly withDrill?: boolean;
};

function StandList({ stands, withDrill, begin, queue, cardAddress }: ListProps) {
  return (
    <ul class="stands">
      {stands.map((one) => (
        <li key={one.rig.id}>
          <StandChoice
            documents={one}
            card={cardAddress(one.rig.id)}
            onBegin={() => void begin(one, { drill: false })}
          />
          {withDrill && (
            <Button look="quiet" onPress={() => void begin(one, { drill: true })}>
              Drill its procedure, nothing under air
            </Button>
          )}
          <ShotQueue
            documents={one}
            queue={queue}
            cardAddress={(shot) => cardAddress(one.rig.id, shot)}
            onBegin={(shot) => void begin(one, { drill: false, shot })}
          />
        </li>
      ))}
    </ul>
  );
}

type ChoiceProps = {
  readonly documents: WrittenDocuments;
  readonly card: string;
  readonly onBegin: () => void;
};

function StandChoice({ documents, card, onBegin }: ChoiceProps) {
  const { rig, written } = documents;
  return (
    <div class="stand-choice">
      <p>
        <b>{rig.name}</b>
        <br />
        {written.title}, revision {written.revision}
        <br />
        <a href={card}>Paper card</a>
        {!rig.service.in && <strong> Out of service: {rig.service.tag}</strong>}
      </p>
      <Button look="go" critical onPress={onBegin}>
        Start
      </Button>
    </div>
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
