import { canonicalEntry } from "../../core/record/canonical.ts";
import type { Entry, LogEvent } from "../../core/record/entry.ts";
import type { SendOutcome } from "./live-run.ts";
import type { LooseEntry } from "./run-log.ts";

/** An act on its way into the log, and everybody who waits to hear what became of it. */
export type Job = {
  readonly key: string;
  readonly loose: LooseEntry;
  readonly waiting: ((outcome: SendOutcome) => void)[];
};

/** Two sendings of the same words by the same person, while the first is under way, are one act. */
export const jobKey = (by: string, event: LogEvent): string => {
  const text = canonicalEntry({ by, event });
  // What has no stable text is refused when it is sealed; until then any key will do.
  return text.ok ? text.value : JSON.stringify({ by, event });
};

export const createJob = (loose: LooseEntry): Job => ({
  key: jobKey(loose.by, loose.event),
  loose,
  waiting: [],
});

export const outcomeOf = (job: Job): Promise<SendOutcome> =>
  new Promise((resolve) => job.waiting.push(resolve));

export const settle = (job: Job, outcome: SendOutcome): void => {
  for (const tell of job.waiting.splice(0)) tell(outcome);
};

/** The same act, whatever its place: entered at the same instant, by the same person, with the same words. */
export const isSameAct = (entry: Entry | LooseEntry, loose: LooseEntry): boolean =>
  entry.session === loose.session &&
  entry.mono === loose.mono &&
  entry.at === loose.at &&
  jobKey(entry.by, entry.event) === jobKey(loose.by, loose.event);
