import type { ComponentChildren } from "preact";
import { useEffect, useMemo, useState } from "preact/hooks";
import type { Issue, Result } from "../../core/result.ts";
import { type RunReview, reviewRun } from "../../core/review/review-run.ts";
import type { SignOff } from "../../core/review/sign-off.ts";
import { trendsOver } from "../../core/review/trends.ts";
import type { StoredRun } from "../ports.ts";
import type { SignOffs } from "../session/sign-offs.ts";
import { issueWords, STATE_TITLE } from "../text.ts";
import "../widgets/desk.css";
import { Findings } from "./findings.tsx";
import { ProofTable } from "./proof-table.tsx";
import { RawLog } from "./raw-log.tsx";
import "./review.css";
import { ScrollBox } from "../widgets/scroll-box.tsx";
import { SignSheet } from "./sign-sheet.tsx";
import { dayOf, signedWords } from "./signed-words.ts";

export type ReviewPorts = {
  /** Every run of this device, its own and those brought in, verified; and what could not be read. */
  readonly runs: () => Promise<
    Result<{ readonly runs: readonly StoredRun[]; readonly faults: readonly Issue[] }>
  >;
  /** What was signed on this device. */
  readonly signOffs: () => Promise<SignOffs>;
  readonly sign: (signed: SignOff) => Promise<Result<SignOff>>;
  readonly now_ms: () => number;
};

type Read = { readonly run: StoredRun; readonly review: RunReview };

const openedAt = ({ entries }: StoredRun): number => entries[0]?.at ?? 0;

const weightCounts = ({ findings }: RunReview): string => {
  const count = (weight: string) => findings.filter((finding) => finding.weight === weight).length;
  return `${count("red")} red, ${count("amber")} amber, ${count("note")} notes`;
};

/** The safety officer's reading of logs: findings point at entries, and never score a person. */
export function Review({ ports, home }: { readonly ports: ReviewPorts; readonly home: string }) {
  const [loaded, setLoaded] = useState<Awaited<ReturnType<ReviewPorts["runs"]>>>();
  const [{ signed, faults }, setSignOffs] = useState<SignOffs>({ signed: [], faults: [] });
  const [chosen, setChosen] = useState<string>();
  useEffect(() => {
    void ports.runs().then(setLoaded);
    void ports.signOffs().then(setSignOffs);
  }, [ports]);
  const sign: ReviewPorts["sign"] = async (one) => {
    const kept = await ports.sign(one);
    setSignOffs(await ports.signOffs());
    return kept;
  };
  const read = useMemo<readonly Read[]>(() => {
    if (!loaded?.ok) return [];
    return [...loaded.value.runs]
      .sort((a, b) => openedAt(a) - openedAt(b))
      .map((run) => ({ run, review: reviewRun(run.documents.rig, run.documents.procedure, run.entries) }));
  }, [loaded]);
  const open = read.find(({ run }) => run.log === chosen);
  return (
    <div class="desk review">
      <header class="desk-top">
        <h1>{open ? `Review: ${open.run.code}` : "Review"}</h1>
        <nav aria-label="Other faces" class="no-print">
          {open && (
            <button type="button" class="button small" onClick={() => setChosen(undefined)}>
              All runs
            </button>
          )}
          <button type="button" class="button small" onClick={() => print()}>
            Print
          </button>
          <a href={home}>Start</a>
        </nav>
      </header>
      <main>
        {loaded === undefined && <p role="status">Reading the runs of this device…</p>}
        {loaded && !loaded.ok && <Faults issues={loaded.issues} />}
        {loaded?.ok && <Faults issues={[...loaded.value.faults, ...faults]} />}
        {open ? (
          <OneRun {...open}>
            <SignSheet
              {...open}
              sign={sign}
              now_ms={ports.now_ms}
              signed={signed.filter(({ log }) => log === open.run.log)}
            />
          </OneRun>
        ) : (
          loaded?.ok && <AllRuns read={read} signed={signed} onOpen={setChosen} />
        )}
      </main>
    </div>
  );
}

function Faults({ issues }: { readonly issues: readonly Issue[] }) {
  if (issues.length === 0) return null;
  return (
    <ul class="faults" role="alert">
      {issues.map((issue) => {
        const { what, todo } = issueWords(issue);
        return (
          <li key={`${issue.code} ${issue.where}`}>
            <strong>{issue.where}</strong>: {what} {todo}
          </li>
        );
      })}
    </ul>
  );
}

type AllRunsProps = {
  readonly read: readonly Read[];
  readonly signed: readonly SignOff[];
  readonly onOpen: (log: string) => void;
};

function AllRuns({ read, signed, onOpen }: AllRunsProps) {
  if (read.length === 0)
    return (
      <p class="lead">
        No run on this device yet. Start one at the stand, or bring in a run file on the bench.
      </p>
    );
  const trends = trendsOver(read.map(({ run, review }) => ({ code: run.code, findings: review.findings })));
  return (
    <>
      <section class="sheet" aria-labelledby="habits">
        <h2 id="habits">Habits over runs</h2>
        {trends.length === 0 ? (
          <p>None seen in {read.length === 1 ? "this one run" : `these ${read.length} runs`}.</p>
        ) : (
          <ul>
            {trends.map(({ words, runs }) => (
              <li key={words}>
                {words} ({runs.join(", ")})
              </li>
            ))}
          </ul>
        )}
      </section>
      <section class="sheet" aria-labelledby="runs">
        <h2 id="runs">Runs</h2>
        <ScrollBox label="Table of the runs">
          <table>
            <thead>
              <tr>
                <th scope="col">Run</th>
                <th scope="col">Stand</th>
                <th scope="col">Opened</th>
                <th scope="col">Ended</th>
                <th scope="col">To look at</th>
                <th scope="col">Signed</th>
              </tr>
            </thead>
            <tbody>
              {read.toReversed().map(({ run, review }) => (
                <tr key={run.log}>
                  <th scope="row">
                    <button type="button" class="button small" onClick={() => onOpen(run.log)}>
                      {run.code}
                    </button>
                  </th>
                  <td>{run.documents.rig.name}</td>
                  <td class="keep">{dayOf(openedAt(run))}</td>
                  <td>{STATE_TITLE[review.ended]}</td>
                  <td>{weightCounts(review)}</td>
                  <td>{signedWords(run, signed)}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </ScrollBox>
      </section>
    </>
  );
}

function OneRun({ run, review, children }: Read & { readonly children: ComponentChildren }) {
  const show = (seq: number) => {
    const row = document.getElementById(`entry-${seq}`);
    row?.scrollIntoView({ block: "center" });
    row?.focus({ preventScroll: true });
  };
  const { rig, procedure } = run.documents;
  const opened = run.entries[0]?.event;
  return (
    <>
      <p class="lead">
        {rig.name}, {procedure.title}, revision {procedure.revision}. Opened {dayOf(openedAt(run))}, ended:{" "}
        {STATE_TITLE[review.ended].toLowerCase()}. {weightCounts(review)}.
        {opened?.type === "opened" && opened.drill && <strong> DRILL.</strong>}
        {rig.synthetic && <span class="tag synthetic">SYNTHETIC</span>}
      </p>
      <p>
        Last digest, as read out and written down at the stand:{" "}
        <code class="digest">{run.entries.at(-1)?.hash.slice(0, 8)}</code>
      </p>
      <div class="review-halves">
        <div>
          <Findings findings={review.findings} onShow={show} />
          {children}
        </div>
        <div>
          <ProofTable rig={rig} timeline={review.timeline} />
          <RawLog timeline={review.timeline} documents={run.documents} />
        </div>
      </div>
    </>
  );
}
