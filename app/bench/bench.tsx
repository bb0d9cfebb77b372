import type { ComponentType } from "preact";
import { useEffect, useMemo } from "preact/hooks";
import type { ForceWork, Preferences, Transfer } from "../ports.ts";
import "../widgets/desk.css";
import { useAddress } from "../address.ts";
import "./bench.css";
import { Desk, type DeskPorts, type Term } from "./desk.ts";
import { DeskLists } from "./desk-lists.tsx";
import { runJson, seriesCsv } from "./export.ts";
import { FileSheet } from "./file-sheet.tsx";
import { RunSheet } from "./run-sheet.tsx";
import { seriesRows } from "./series-rows.ts";
import { SeriesSheet } from "./series-sheet.tsx";
import { type ReadCodesProps, TakeInStrip } from "./take-in-strip.tsx";
import type { ForceView } from "./use-force.ts";

export type BenchPorts = DeskPorts & {
  readonly force: ForceWork;
  readonly transfer: Pick<Transfer, "save">;
  readonly preferences: Preferences;
  /** An invented term to try the bench with; made when it is asked for. */
  readonly demo: () => Promise<Term>;
  readonly ReadCodes: ComponentType<ReadCodesProps>;
};

const personKey = "bench-person";

/** Takes in runs and force files, puts them together, and shows what each firing was worth. */
export function Bench({ ports, home }: { readonly ports: BenchPorts; readonly home: string }) {
  const desk = useMemo(() => new Desk(ports), [ports]);
  const view = useMemo((): ForceView => ({ force: ports.force, sourceOf: desk.sourceOf }), [ports, desk]);
  useEffect(() => {
    desk.person.value = ports.preferences.read(personKey) ?? "";
    void desk.load();
  }, [desk, ports]);
  const [, what, which] = useAddress();
  const empty = desk.loaded.value && desk.runs.value.length === 0 && desk.files.value.length === 0;
  const openDemo = async () => {
    const demo = await ports.demo();
    await desk.takeInTerm(demo);
  };
  return (
    <div class="desk bench">
      <header class="desk-top">
        <h1>Bench</h1>
        <label class="no-print">
          Your code{" "}
          <input
            type="text"
            class="cell-input"
            maxLength={8}
            value={desk.person.value}
            onInput={(event) => {
              desk.person.value = event.currentTarget.value.toUpperCase();
              ports.preferences.write(personKey, desk.person.value);
            }}
          />
        </label>
        <nav aria-label="Other faces">
          <a href={home}>Start</a>
        </nav>
      </header>
      <TakeInStrip
        desk={desk}
        ReadCodes={ports.ReadCodes}
        onDemo={empty ? () => void openDemo() : undefined}
      />
      {empty ? (
        <Empty />
      ) : (
        <div class="bench-columns">
          <DeskLists desk={desk} open={what === "series" ? "series" : which} />
          <main>
            <Opened {...{ desk, view, ports, what, which }} />
          </main>
        </div>
      )}
    </div>
  );
}

type OpenedProps = {
  readonly desk: Desk;
  readonly view: ForceView;
  readonly ports: BenchPorts;
  readonly what: string | undefined;
  readonly which: string | undefined;
};

function Opened({ desk, view, ports, what, which }: OpenedProps) {
  if (what === "series")
    return (
      <SeriesSheet
        desk={desk}
        onExport={() => ports.transfer.save("series.csv", seriesCsv(seriesRows(desk)))}
      />
    );
  const run = what === "run" ? desk.runs.value.find(({ log }) => log === which) : undefined;
  if (run)
    return (
      <RunSheet
        key={run.log}
        {...{ desk, view, run }}
        onExport={(firings) => {
          const [row] = seriesRows(desk).filter((one) => one.run.log === run.log);
          if (row) ports.transfer.save(`${run.code}.csv`, seriesCsv([row]));
          ports.transfer.save(`${run.code}-result.json`, runJson(run, firings));
        }}
      />
    );
  const file = what === "file" ? desk.files.value.find(({ digest }) => digest === which) : undefined;
  if (file) return <FileSheet key={file.digest} {...{ desk, view, file }} preferences={ports.preferences} />;
  if (!desk.loaded.value) return <p role="status">Looking what this device holds…</p>;
  return <p class="lead">Pick a run or a file on the left.</p>;
}

function Empty() {
  return (
    <section class="bench-empty">
      <h2>Nothing is on the bench yet</h2>
      <ol>
        <li>Bring in run files: shared, saved or shown as codes by the phone at the stand.</li>
        <li>Bring in what the recorder saved: any text with columns of numbers.</li>
        <li>
          Say whose firing each one is. It is suggested by the run's code, the water that left and the order.
        </li>
        <li>Read what each run gave, with its uncertainty, beside what its own conditions should give.</li>
      </ol>
      <p>Everything stays on this device. To look round first, open the demo term: 24 SYNTHETIC runs.</p>
    </section>
  );
}
