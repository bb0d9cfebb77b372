import type { Issue } from "../../core/result.ts";
import type { SignOff, Verdict } from "../../core/review/sign-off.ts";
import type { StoredRun } from "../ports.ts";

/** A run of this device, and what is wrong with its chain. */
export type CheckedRun = StoredRun & { readonly faults: readonly Issue[] };

export const VERDICT: Record<Verdict, string> = {
  "nothing-to-do": "seen, nothing to do",
  "follow-up": "to be followed up",
};

export const dayOf = (at: number): string =>
  new Date(at).toLocaleString(undefined, { dateStyle: "medium", timeStyle: "short" });

/** A signature counts for the state of the log that was looked at. */
export const agoWords = ({ entries }: StoredRun, { head }: SignOff): string => {
  const at = entries.findIndex(({ hash }) => hash === head);
  if (at < 0) return "It was given for another state of this run.";
  const since = entries.length - 1 - at;
  if (since === 0) return "";
  return since === 1 ? "One entry was added since." : `${since} entries were added since.`;
};

/** For the list: the newest word, or that there is none. */
export const signedWords = (run: StoredRun, signed: readonly SignOff[]): string => {
  const [newest] = signed.filter(({ log }) => log === run.log);
  if (!newest) return "not yet";
  return [`${newest.by}: ${VERDICT[newest.verdict]}.`, agoWords(run, newest)].join(" ").trim();
};
