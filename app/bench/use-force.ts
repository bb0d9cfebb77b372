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
  const asked = useLatest(
    off.length === 0 || request === undefined
      ? undefined
      : { key: JSON.stringify([file.digest, request]), digest: file.digest, request },
    view,
    (source, { request }, work) => view.force.reduce(source, request, work),
  );
  return off.length === 0 ? file.outcome?.reduction : asked;
}

/** Curves of a view; the last ones stay until the new ones are there. */
export function useCurves(
  view: ForceView,
  digest: string,
  request: ForceRequest | undefined,
  curves: CurveView | undefined,
): Result<readonly ForceCurve[]> | undefined {
  return useLatest(
    request && curves && { key: JSON.stringify([digest, request, curves]), digest, request, curves },
    view,
    (source, { request, curves }, work) => view.force.curves(source, request, curves, work),
  );
}

type Ask = { readonly key: string; readonly digest: string };

/**
 * Answers to the latest ask only: while one is under way those that come are passed over, but for the last, so
 * that a slider or a wheel never builds up a queue.
 */
export function useLatest<A extends Ask, T>(
  ask: A | undefined,
  { sourceOf }: ForceView,
  answer: (source: ForceSource, ask: A, work: Work) => Promise<Result<T>>,
): Result<T> | undefined {
  const [answered, setAnswered] = useState<{ of: string; result: Result<T> }>();
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
        if (!now.gone) setAnswered({ of: current.digest, result });
      }
      now.working = false;
    };
    void work();
  }, [ask?.key]);
  return ask !== undefined && answered?.of === ask.digest ? answered.result : undefined;
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
