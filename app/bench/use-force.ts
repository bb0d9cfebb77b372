import { useEffect, useRef, useState } from "preact/hooks";
import type { Correction } from "../../core/force/corrections.ts";
import { issue, type Result } from "../../core/result.ts";
import type {
  CurveView,
  ForceCurve,
  ForceReduction,
  ForceRequest,
  ForceSource,
  ForceWork,
  Work,
} from "../ports.ts";
import type { DeskFile } from "./desk-file.ts";

/** What views ask of the worker by themselves. */
export type ForceView = {
  readonly force: ForceWork;
  readonly sourceOf: (digest: string) => Promise<Result<ForceSource>>;
};

/** The request of a file's last reduction, with some corrections left out. */
export function requestWithout(file: DeskFile, off: readonly Correction[]): ForceRequest | undefined {
  const request = file.outcome?.request;
  if (!request?.ok) return undefined;
  return off.length === 0 ? request.value : { ...request.value, options: { ...request.value.options, off } };
}

/** The file's reduction with some corrections left out; the desk's own where none are. */
export function useReduction(
  view: ForceView,
  file: DeskFile,
  off: readonly Correction[],
): Result<ForceReduction> | undefined {
  const request = requestWithout(file, off);
  const key = JSON.stringify([file.digest, request]);
  const asked = useLatest(
    off.length === 0 || request === undefined ? undefined : { key, digest: file.digest, request },
    view,
    (source, { request }, work) => view.force.reduce(source, request, work),
  );
  if (off.length === 0) return file.outcome?.reduction;
  // Numbers of other switches must never stand under these.
  return asked?.key === key ? asked.result : undefined;
}

/** Curves of a view; the last ones stay until the new ones are there. */
export function useCurves(
  view: ForceView,
  digest: string,
  request: ForceRequest | undefined,
  curves: CurveView | undefined,
): Result<readonly ForceCurve[]> | undefined {
  const latest = useLatest(
    request && curves && { key: JSON.stringify([digest, request, curves]), digest, request, curves },
    view,
    (source, { request, curves }, work) => view.force.curves(source, request, curves, work),
  );
  return latest?.result;
}

type Ask = { readonly key: string; readonly digest: string };
/** To which ask: the last one, or one before it while that is under way. */
type Answer<T> = Ask & { readonly result: Result<T> };

/**
 * Answers to the latest ask only: while one is under way those that come are passed over, but for the last, so
 * that a slider or a wheel never builds up a queue.
 */
export function useLatest<A extends Ask, T>(
  ask: A | undefined,
  { sourceOf }: ForceView,
  answer: (source: ForceSource, ask: A, work: Work) => Promise<Result<T>>,
): Answer<T> | undefined {
  const [answered, setAnswered] = useState<Answer<T>>();
  const state = useRef<{ wanted: A | undefined; working: boolean; gone: boolean }>({
    wanted: undefined,
    working: false,
    gone: false,
  });
  useEffect(() => {
    state.current.gone = false;
    return () => {
      state.current.gone = true;
    };
  }, []);
  useEffect(() => {
    const now = state.current;
    now.wanted = ask;
    if (now.working) return;
    const work = async () => {
      now.working = true;
      while (now.wanted && !now.gone) {
        const current: A = now.wanted;
        now.wanted = undefined;
        const result = await answerOne(current, sourceOf, answer);
        if (!now.gone) setAnswered({ key: current.key, digest: current.digest, result });
      }
      now.working = false;
    };
    void work();
  }, [ask?.key]);
  return ask !== undefined && answered?.digest === ask.digest ? answered : undefined;
}

async function answerOne<A extends Ask, T>(
  ask: A,
  sourceOf: ForceView["sourceOf"],
  answer: (source: ForceSource, ask: A, work: Work) => Promise<Result<T>>,
): Promise<Result<T>> {
  const source = await sourceOf(ask.digest);
  if (!source.ok) return source;
  try {
    return await answer(source.value, ask, {});
  } catch (fault) {
    const remedy = "open the run again; if it happens twice, keep the file and report it";
    return { ok: false, issues: [issue("bench-fault", "worker", String(fault), remedy)] };
  }
}
