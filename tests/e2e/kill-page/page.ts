import { HERON } from "../../../app/demo/documents.ts";
import { createClock } from "../../../app/device/clock.ts";
import { createPresence } from "../../../app/device/presence.ts";
import { pageTimer } from "../../../app/device/timer.ts";
import { createWriterLock } from "../../../app/device/writer-lock.ts";
import type { LiveRun, SessionPorts } from "../../../app/session/live-run.ts";
import { openRun, startRun } from "../../../app/session/open-run.ts";
import { connect } from "../../../app/storage/database.ts";
import { createIdbRunStore } from "../../../app/storage/idb-run-store.ts";
import { createLocalJournal } from "../../../app/storage/local-journal.ts";
import { watchStore } from "../../../app/storage/watch-store.ts";
import { replay } from "../../../core/record/replay.ts";
import { verifyEntries } from "../../../core/record/verify.ts";
import type { SequenceEvent } from "../../../core/sequence/vocabulary.ts";

/**
 * The smallest page on the app's own session and storage: a button, and what it confirmed. Each tap
 * is one act with a number of its own; what the outside is told, it is told after the page shows it.
 */

/** What the page found when it opened. */
export type Opened = {
  /** The numbers of every act that is in the log. */
  readonly logged: readonly number[];
  readonly entries: number;
  readonly faults: readonly string[];
  readonly state: string;
  readonly hold: string | undefined;
  readonly restarts: number;
};

declare global {
  interface Window {
    /** Filled in by the test, which runs in another process. */
    readonly confirmed: (number: number) => void;
    readonly opened: (found: Opened) => void;
  }
}

const LOG = "killed";

const ports: SessionPorts = {
  store: watchStore(createIdbRunStore(connect()), pageTimer),
  journal: createLocalJournal(localStorage),
  clock: createClock(crypto.randomUUID()),
  lock: createWriterLock(navigator.locks),
  presence: createPresence(document),
  timer: pageTimer,
  device: "phone",
};

/** Every other act is a permission, which nothing may show before it is durable. */
const act = (number: number): SequenceEvent =>
  number % 2 === 0
    ? { type: "signed-on", person: `P${number}`, role: "releaser" }
    : { type: "noted", text: `${number}` };

const numberOf = (event: { readonly type: string }): number | undefined => {
  if (event.type === "noted" && "text" in event) return Number(event.text);
  return event.type === "signed-on" && "person" in event ? Number(String(event.person).slice(1)) : undefined;
};

const openOrStart = async () => {
  const opened = await openRun(ports, LOG);
  if (opened.ok || !opened.issues.some(({ code }) => code === "run-not-found")) return opened;
  const run = { documents: HERON, code: "H-001-01", log: LOG, drill: false, transcribed: false };
  return startRun(ports, { ...run, software: "test" });
};

const found = (run: LiveRun): Opened => {
  const { entries, sequence, snapshot } = run.view();
  const verified = verifyEntries(entries);
  const folded = replay(sequence, entries);
  return {
    logged: entries.flatMap(({ event }) => numberOf(event) ?? []),
    entries: entries.length,
    faults: [verified, folded].flatMap((one) => (one.ok ? [] : one.issues.map(({ detail }) => detail))),
    state: snapshot.state,
    hold: snapshot.context.hold?.kind,
    restarts: entries.filter(({ event }) => event.type === "restarted").length,
  };
};

const opened = await openOrStart();
if (!opened.ok) throw new Error(JSON.stringify(opened.issues));
const run = opened.value;
// Until the restart itself is in the log.
await run.retry();
const before = found(run);
let number = Math.max(0, ...before.logged);
const button = document.querySelector("#tap");
const shown = document.querySelector("#shown");
button?.addEventListener("click", (event) => {
  number += 1;
  const mine = number;
  void run.send(act(mine), { by: "C1", timeStamp: event.timeStamp }).then((outcome) => {
    if (outcome.kind !== "accepted" || !shown) return;
    shown.textContent = `${mine} is in the log`;
    window.confirmed(mine);
  });
});
window.opened(before);
