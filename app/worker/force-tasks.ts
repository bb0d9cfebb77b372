import { type ExponentFit, fitExponent } from "../../core/compare/exponent-fit.ts";
import { type ForceFile, ForceFileReader, type ReadOptions } from "../../core/force/force-file.ts";
import { areaBetween } from "../../core/force/impulse.ts";
import { type Reduction, reduce } from "../../core/force/reduce.ts";
import { eventReport } from "../../core/force/report.ts";
import { failed, issue, ok, type Result } from "../../core/result.ts";
import type {
  CurveView,
  ForceCurve,
  ForceReading,
  ForceReduction,
  ForceRequest,
  ForceSource,
} from "../ports.ts";
import { curvesOf } from "./curves.ts";

/** What the worker can be asked, and what it gives back: data without functions, ready to be posted. */
export type ForceTasks = {
  readonly read: {
    readonly takes: { readonly source: ForceSource; readonly options: ReadOptions };
    readonly gives: Result<ForceReading>;
  };
  readonly reduce: {
    readonly takes: { readonly source: ForceSource; readonly request: ForceRequest };
    readonly gives: Result<ForceReduction>;
  };
  readonly curves: {
    readonly takes: {
      readonly source: ForceSource;
      readonly request: ForceRequest;
      readonly view: CurveView;
    };
    readonly gives: Result<readonly ForceCurve[]>;
  };
  readonly fit: {
    readonly takes: { readonly source: ForceSource; readonly request: ForceRequest; readonly event: number };
    readonly gives: Result<ExponentFit>;
  };
};

type Report = (part: number) => void;
type Handlers = {
  readonly [T in keyof ForceTasks]: (
    input: ForceTasks[T]["takes"],
    report: Report,
  ) => Promise<ForceTasks[T]["gives"]>;
};

/**
 * The worker's side. It keeps the last file and its last reduction, so that another setting or another zoom does
 * not read the file again; a fresh worker finds out by itself what it has to do over.
 */
export function forceTasks(): Handlers {
  let file: { key: string; result: Result<ForceFile> } | undefined;
  let reduction: { key: string; result: Result<Reduction> } | undefined;

  const fileOf = async (source: ForceSource, options: ReadOptions, report: Report) => {
    const key = JSON.stringify([source.digest, options]);
    if (file?.key !== key) {
      file = undefined;
      reduction = undefined;
      file = { key, result: await readBlob(source.bytes, options, report) };
    }
    return file.result;
  };
  const reductionOf = async (source: ForceSource, request: ForceRequest, report: Report) => {
    const read = await fileOf(source, request.reading, report);
    if (!read.ok) return read;
    const key = JSON.stringify([source.digest, request]);
    if (reduction?.key !== key)
      reduction = { key, result: reduce(read.value, request.setup, request.options) };
    return reduction.result;
  };

  return {
    read: async ({ source, options }, report) => {
      const read = await fileOf(source, options, report);
      return read.ok ? ok(readingOf(read.value)) : read;
    },
    reduce: async ({ source, request }, report) => {
      const reduced = await reductionOf(source, request, report);
      return reduced.ok ? ok(withoutSamples(reduced.value)) : reduced;
    },
    curves: async ({ source, request, view }, report) => {
      const reduced = await reductionOf(source, request, report);
      return reduced.ok ? ok(curvesOf(reduced.value, view)) : reduced;
    },
    fit: async ({ source, request, event }, report) => {
      const reduced = await reductionOf(source, request, report);
      return reduced.ok ? fitEvent(reduced.value, request, event) : reduced;
    },
  };
}

async function readBlob(bytes: Blob, options: ReadOptions, report: Report): Promise<Result<ForceFile>> {
  const reader = new ForceFileReader({ ...options, totalBytes: bytes.size });
  const stream = bytes.stream().getReader();
  for (let chunk = await stream.read(); !chunk.done; chunk = await stream.read()) {
    reader.push(chunk.value);
    report(reader.bytesRead / Math.max(1, bytes.size));
  }
  return reader.finish();
}

function fitEvent({ events, trace }: Reduction, { setup }: ForceRequest, place: number): Result<ExponentFit> {
  const event = events[place];
  if (event === undefined) {
    const detail = `the record holds ${events.length} firings, not ${place + 1}`;
    return failed(issue("no-firing", `event ${place + 1}`, detail, "look at the trace"));
  }
  const { series, onset_s, waterEnd_s } = event;
  const measured = {
    thrust_N: series.thrust_N,
    rate_Hz: series.rate_Hz,
    first_s: series.start_s - onset_s,
    waterEnd_s: waterEnd_s - onset_s,
  };
  const sensitivityRelU = Math.max(...trace.channels.map(({ plan }) => plan.setup.sensitivityRelU));
  return fitExponent(setup.events?.[place] ?? setup, measured, {
    fitVelocityCoefficient: false,
    sensitivityRelU,
  });
}

const sampleRows = 4;

function readingOf({ columns, lineOf: _lineOf, ...rest }: ForceFile): ForceReading {
  const rows = Math.min(sampleRows, rest.rows);
  const sample = Array.from({ length: rows }, (_, row) => columns.map((column) => column[row]!));
  return { ...rest, sample };
}

function withoutSamples({ events, trace, assumed, issues }: Reduction): ForceReduction {
  const at = (sample: number) => trace.start_s + sample / trace.rate_Hz;
  return {
    assumed,
    issues,
    trace: {
      rate_Hz: trace.rate_Hz,
      from_s: trace.start_s,
      to_s: at(trace.samples - 1),
      samples: trace.samples,
      gaps: trace.gaps.map(({ from, count }) => ({ from_s: at(from), to_s: at(from + count) })),
      duplicates: trace.duplicates,
      channels: trace.channels.map(({ name, clipping }) => ({ name, clipped: clipping.count })),
    },
    events: events.map((event) => {
      const { measured, series, layers, ...numbers } = event;
      const { onset, waterEnd, end } = measured.marks;
      return {
        ...numbers,
        read_Ns: areaBetween(series.read_N, onset, end, trace.rate_Hz),
        waterImpulse_Ns: areaBetween(measured.thrust_N, onset, waterEnd, trace.rate_Hz),
        report: eventReport(event),
        layers: layers.map(({ added_N: _added, ...layer }) => layer),
        window: {
          from_s: series.start_s,
          to_s: series.start_s + (series.thrust_N.length - 1) / series.rate_Hz,
        },
      };
    }),
  };
}
