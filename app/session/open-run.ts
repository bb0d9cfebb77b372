import { appendEntry } from "../../core/record/append.ts";
import { canonicalDocument } from "../../core/record/canonical.ts";
import { digest } from "../../core/record/digest.ts";
import type { LogEvent } from "../../core/record/entry.ts";
import { failed, issue, ok, type Result } from "../../core/result.ts";
import { isFinal } from "../../core/sequence/states.ts";
import type { LiveRun, NewRun, SessionPorts } from "./live-run.ts";
import { loadRun } from "./load-run.ts";
import { RunSession } from "./run-session.ts";

const openedEvent = (run: NewRun): Result<LogEvent> => {
  const rig = canonicalDocument(run.documents.rig);
  const procedure = canonicalDocument(run.documents.procedure);
  if (!rig.ok || !procedure.ok)
    return failed(...(rig.ok ? [] : rig.issues), ...(procedure.ok ? [] : procedure.issues));
  return ok({
    type: "opened",
    run: run.code,
    rig: digest(rig.value),
    procedure: digest(procedure.value),
    drill: run.drill,
    transcribed: run.transcribed,
    software: run.software,
  });
};

const writeFirstEntry = async (ports: SessionPorts, run: NewRun): Promise<Result<void>> => {
  const event = openedEvent(run);
  if (!event.ok) return event;
  const first = appendEntry(undefined, {
    ...ports.clock.now(),
    log: run.log,
    device: ports.device,
    by: run.by ?? "unsigned",
    event: event.value,
  });
  if (!first.ok) return first;
  const created = await ports.store.create(run.log, run.code, run.documents);
  if (!created.ok) return created;
  const written = await ports.store.append(first.value);
  if (!written.ok) return written;
  // The journal gates nothing: what it cannot keep becomes a finding once the run is open.
  ports.journal.open(run.log, run.code, run.documents);
  ports.journal.keep(first.value);
  return ok(undefined);
};

/**
 * Opens a new run: its documents and first entry are durable before it is live.
 * @fails run-writer-busy while another run is being written; whatever the store says
 */
export const startRun = async (ports: SessionPorts, run: NewRun): Promise<Result<LiveRun>> => {
  const lock = await ports.lock.take();
  if (!lock.granted) {
    const remedy = "Close the run that is open in another page, then start this one.";
    return failed(issue("run-writer-busy", run.code, "another page is writing a run", remedy));
  }
  const written = await writeFirstEntry(ports, run);
  const loaded = written.ok ? await loadRun(ports, run.log, true) : written;
  if (!loaded.ok) {
    lock.release();
    return loaded;
  }
  const session = new RunSession(ports, run.log, loaded.value);
  session.write(lock, []);
  return ok(session);
};

/**
 * Opens a run that exists: checked, folded, and for its writer restarted, so that a cold run stands
 * on hold without its restraint proof and a run with pressure possible is unknown. A second page
 * looks on.
 * @fails run-not-found, store-unavailable without a journal, every fault of the chain, and whatever
 *   the sequence refuses of the log
 */
export const openRun = async (ports: SessionPorts, log: string): Promise<Result<LiveRun>> => {
  const lock = await ports.lock.take();
  const loaded = await loadRun(ports, log, lock.granted);
  if (!loaded.ok) {
    lock.release();
    return loaded;
  }
  const session = new RunSession(ports, log, loaded.value);
  if (lock.granted) {
    const over = isFinal(loaded.value.durable.snapshot.state);
    session.write(lock, over ? [] : [{ type: "restarted" }]);
  } else session.lookOn();
  return ok(session);
};
