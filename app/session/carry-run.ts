import { runFileName, writeRunFile } from "../../core/exchange/run-file.ts";
import type { Issue } from "../../core/result.ts";
import type { Handed, Journal, Preferences, Transfer } from "../ports.ts";
import { issueLine } from "../text.ts";
import type { LiveRun } from "./live-run.ts";

export type CarrierPorts = {
  readonly transfer: Pick<Transfer, "share" | "save">;
  readonly journal: Pick<Journal, "exported">;
  readonly preferences: Preferences;
  readonly now_ms: () => number;
};

export type RunCarrier = {
  /** Hands the run's file over as it stands, and says in words what became of it. */
  readonly hand: (run: LiveRun, way: "share" | "save") => Promise<string>;
  /** A copy left: the second copy here may make room, and the log says so where the run is open here. */
  readonly noteCopy: (
    copy: { readonly log: string; readonly entries: number; readonly words: string },
    run: LiveRun | undefined,
  ) => Promise<void>;
  readonly lastCopy_ms: () => number | undefined;
};

const LAST_COPY = "last-export";

const WORDS: Record<Handed, string> = {
  handed: "A copy has left this device. The run stays here too.",
  cancelled: "Not shared: the sheet was closed.",
  "not-supported": "This browser shares no files: save it instead.",
};

const sentences = (issues: readonly Issue[]): string => issues.map(issueLine).join(" ");

/** A run on its way to another device, and what is remembered of it. */
export const runCarrier = ({ transfer, journal, preferences, now_ms }: CarrierPorts): RunCarrier => {
  const noteCopy: RunCarrier["noteCopy"] = async ({ log, entries, words }, run) => {
    journal.exported(log, entries - 1);
    preferences.write(LAST_COPY, String(now_ms()));
    await run?.keep("shared", words);
  };
  return {
    noteCopy,
    hand: async (run, way) => {
      const { code, log, rig, procedure, entries } = run.view();
      const file = writeRunFile({ run: code, log, rig, procedure, entries });
      if (!file.ok) return sentences(file.issues);
      const handed = await transfer[way](runFileName({ run: code }), file.value);
      if (!handed.ok) return sentences(handed.issues);
      if (handed.value !== "handed") return WORDS[handed.value];
      const words = way === "share" ? "given to the share sheet" : "saved to the downloads";
      await noteCopy({ log, entries: entries.length, words }, run);
      return WORDS.handed;
    },
    lastCopy_ms: () => Number(preferences.read(LAST_COPY)) || undefined,
  };
};
