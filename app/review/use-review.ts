import { useEffect, useMemo, useState } from "preact/hooks";
import type { Issue, Result } from "../../core/result.ts";
import { type RunReview, reviewRun } from "../../core/review/review-run.ts";
import type { SignOff } from "../../core/review/sign-off.ts";
import type { SignOffs } from "../session/sign-offs.ts";
import type { CheckedRun } from "./signed-words.ts";

export type ReviewPorts = {
  /** Every run of this device, its own and those brought in, and what could not be read. */
  readonly runs: () => Promise<
    Result<{ readonly runs: readonly CheckedRun[]; readonly faults: readonly Issue[] }>
  >;
  /** What was signed on this device. */
  readonly signOffs: () => Promise<SignOffs>;
  readonly sign: (signed: SignOff) => Promise<Result<SignOff>>;
  readonly now_ms: () => number;
};

export type Read = { readonly run: CheckedRun; readonly review: RunReview };

export const openedAt = ({ entries }: CheckedRun): number => entries[0]?.at ?? 0;

/** Every run read again as a safety officer would, the oldest first, and what was signed of them. */
export function useReview(ports: ReviewPorts) {
  const [loaded, setLoaded] = useState<Awaited<ReturnType<ReviewPorts["runs"]>>>();
  const [{ signed, faults }, setSignOffs] = useState<SignOffs>({ signed: [], faults: [] });
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
  return { loaded, read, signed, faults, sign };
}
