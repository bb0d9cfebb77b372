import type { Entry } from "../../core/record/entry.ts";
import { failed, type Issue, issue, ok, type Result } from "../../core/result.ts";
import type { RunStore, Timer } from "../ports.ts";
import type { RawRunStore } from "./raw-run-store.ts";

/** iOS drops connections without a word and an open can hang (FIELD): nothing is waited for longer, in ms. */
export const WATCHDOG_MS = 3000;

class TimedOut extends Error {
  override readonly name = "TimedOut";
}

const FREE = "Free some room on the phone, then try again.";
const AGAIN = "Try again; if it stays so, go on by the paper card and export the run.";
const CLOSE_OTHERS = "Close every other tab and window of this app, then try again.";

const issueOf = (fault: unknown, raw: RawRunStore): Issue => {
  const name = fault instanceof Error || fault instanceof DOMException ? fault.name : "";
  const detail = fault instanceof Error || fault instanceof DOMException ? fault.message : String(fault);
  if (raw.isBlocked())
    return issue("store-blocked", "store", "an older page of this app keeps the store", CLOSE_OTHERS);
  if (name === "QuotaExceededError") return issue("store-full", "store", "there is no room left", FREE);
  if (name === "TimedOut") return issue("store-timeout", "store", "the store did not answer", AGAIN);
  return issue("store-unavailable", "store", `the store failed: ${detail || name}`, AGAIN);
};

const within = <T>(work: Promise<T>, timer: Timer): Promise<T> => {
  // An answer that comes after its time is nobody's: it must not show as an unhandled fault either.
  work.catch(() => {});
  return new Promise<T>((resolve, reject) => {
    const cancel = timer.after(WATCHDOG_MS, () => reject(new TimedOut("no answer")));
    work.then(resolve, reject).finally(cancel);
  });
};

/**
 * Makes a store that always answers: each operation gets three seconds, then the connection is
 * dropped, a new one opened and the same operation tried once more, then it is an issue. Trying an
 * append twice is sound, since the same (log, seq) with the same hash is the same entry.
 */
export const watchStore = (raw: RawRunStore, timer: Timer): RunStore => {
  const tried = async <T>(work: () => Promise<T>): Promise<Result<T>> => {
    try {
      return ok(await within(work(), timer));
    } catch {
      raw.drop();
    }
    try {
      return ok(await within(work(), timer));
    } catch (fault) {
      const found = issueOf(fault, raw);
      raw.drop();
      return failed(found);
    }
  };

  const append = async (entry: Entry): Promise<Result<void>> => {
    const added = await tried(() => raw.append(entry));
    if (!added.ok) return added;
    if (added.value === "added" || added.value.hash === entry.hash) return ok(undefined);
    return failed(
      issue(
        "entry-exists",
        `entry ${entry.seq}`,
        `${entry.log} holds another entry here`,
        "Read the log again.",
      ),
    );
  };

  return {
    create: async (log, code, documents) => {
      const created = await tried(() => raw.create(log, code, documents));
      return created.ok ? ok(undefined) : created;
    },
    append,
    read: async (log) => {
      const read = await tried(() => raw.read(log));
      if (!read.ok) return read;
      if (read.value) return ok(read.value);
      return failed(issue("run-not-found", log, "this device holds no such run", "Bring in its run file."));
    },
    list: () => tried(raw.list),
    probe: () => tried(raw.probe),
  };
};
