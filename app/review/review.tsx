import type { ComponentChildren } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import type { Issue } from "../../core/result.ts";
import type { RunReview } from "../../core/review/review-run.ts";
import type { SignOff } from "../../core/review/sign-off.ts";
import { trendsOver } from "../../core/review/trends.ts";
import { STATE_TITLE } from "../text.ts";
import "../widgets/desk.css";
import { Findings } from "./findings.tsx";
import { ProofTable } from "./proof-table.tsx";
import { RawLog } from "./raw-log.tsx";
import "./review.css";
import { Issues } from "../widgets/issues.tsx";
import { ScrollBox } from "../widgets/scroll-box.tsx";
import { SignSheet } from "./sign-sheet.tsx";
import { dayOf, signedWords } from "./signed-words.ts";
import { openedAt, type Read, type ReviewPorts, useReview } from "./use-review.ts";

const weightCounts = ({ findings }: RunReview): string => {
  const count = (weight: string) => findings.filter((finding) => finding.weight === weight).length;
  return `${count("red")} red, ${count("amber")} amber, ${count("note")} notes`;
};

/** The safety officer's reading of logs: findings point at entries, and never score a person. */
export function Review({ ports, home }: { readonly ports: ReviewPorts; readonly home: string }) {
  const { loaded, read, signed, faults, sign } = useReview(ports);
  const [chosen, setChosen] = useState<string>();
  const open = read.find(({ run }) => run.log === chosen);
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    if (loaded) heading.current?.focus();
  }, [chosen]);
  return (
    <div class="desk review">
      <header class="desk-top">
        <h1 ref={heading} tabIndex={-1}>
          {open ? `Review: ${open.run.code}` : "Review"}
        </h1>
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
        {loaded?.ok && (
          <Faults
            issues={[
              ...loaded.value.faults,
              ...faults,
              ...(open ? open.run.faults : read.flatMap(({ run }) => run.faults)),
            ]}
          />
        )}
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
    <div role="alert">
      <Issues class="faults" placed issues={issues} />
    </div>
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
              {read.toReversed().map((one) => (
                <RunRow key={one.run.log} {...one} signed={signed} onOpen={onOpen} />
              ))}
            </tbody>
          </table>
        </ScrollBox>
      </section>
    </>
  );
}

type RunRowProps = Read & Pick<AllRunsProps, "signed" | "onOpen">;

function RunRow({ run, review, signed, onOpen }: RunRowProps) {
  return (
    <tr>
      <th scope="row">
        <button type="button" class="button small" onClick={() => onOpen(run.log)}>
          {run.code}
        </button>
      </th>
      <td>{run.documents.rig.name}</td>
      <td class="keep">{dayOf(openedAt(run))}</td>
      <td>{STATE_TITLE[review.ended]}</td>
      <td>
        {run.faults.length > 0 && <strong>LOG NOT WHOLE. </strong>}
        {weightCounts(review)}
      </td>
      <td>{signedWords(run, signed)}</td>
    </tr>
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
        {run.faults.length > 0 && <strong> LOG NOT WHOLE: what follows may not be what was entered.</strong>}
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
