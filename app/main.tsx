import { type ComponentType, render } from "preact";
import { useMemo } from "preact/hooks";
import { writeRunFile } from "../core/exchange/run-file.ts";
import type { WrittenDocuments } from "../core/procedure/rig-numbers.ts";
import type { Throw } from "../core/propulsion/throw.ts";
import { type Failed, failed, issue, ok, type Result } from "../core/result.ts";
import type { Rig } from "../core/rig/rig.ts";
import { version } from "../package.json";
import { type Address, addressOf, useAddress } from "./address.ts";
import { WRITTEN } from "./demo/written.ts";
import { createClock } from "./device/clock.ts";
import { createPresence } from "./device/presence.ts";
import { pageTimer } from "./device/timer.ts";
import { createWriterLock } from "./device/writer-lock.ts";
import { laterFaces } from "./later-faces.tsx";
import { browserReadiness } from "./offline/browser-readiness.ts";
import { startUpdates } from "./offline/start-updates.ts";
import { runCarrier } from "./session/carry-run.ts";
import type { KeptStands } from "./session/kept-stands.ts";
import { lastCrew } from "./session/last-crew.ts";
import type { LiveRun, SessionPorts } from "./session/live-run.ts";
import { openRun, startRun } from "./session/open-run.ts";
import { OpenStand } from "./stand/open-stand.tsx";
import { type Begin, type Face, Start, type StartProps } from "./start/start.tsx";
import { connect } from "./storage/database.ts";
import { createIdbFileStore } from "./storage/idb-file-store.ts";
import { createIdbRunStore } from "./storage/idb-run-store.ts";
import { createLocalJournal } from "./storage/local-journal.ts";
import { localPreferences } from "./storage/preferences.ts";
import { watchStore } from "./storage/watch-store.ts";
import { saveFile } from "./transfer/save-file.ts";
import { shareFile } from "./transfer/share-file.ts";
import { allowOwnScripts } from "./trusted-scripts.ts";
import { Later } from "./widgets/later.tsx";
import "./styles/base.css";

/** COMPOSITION ROOT: here and in later-faces.tsx alone adapters are built and handed to the faces. */
allowOwnScripts(globalThis as unknown as Parameters<typeof allowOwnScripts>[0]);
const updates = startUpdates();
const preferences = localPreferences(localStorage);
const connection = connect();
const store = watchStore(createIdbRunStore(connection), pageTimer);
const files = createIdbFileStore(connection);

document.documentElement.dataset["theme"] = preferences.read("theme") ?? "day";

const newId = (): string => crypto.randomUUID().replaceAll("-", "");

const remembered = (key: string, make: () => string): string => {
  const kept = preferences.read(key) ?? make();
  preferences.write(key, kept);
  return kept;
};

const ports: SessionPorts = {
  store,
  journal: createLocalJournal(localStorage),
  clock: createClock(newId()),
  lock: createWriterLock(navigator.locks),
  presence: createPresence(document),
  timer: pageTimer,
  device: remembered("device", newId),
};

/** A phone writes one run at a time; looking at the start page meanwhile is no restart. */
let live: LiveRun | undefined;

const become = (opened: Result<LiveRun>): Result<LiveRun> => {
  if (opened.ok) live = opened.value;
  return opened;
};

const open = async (log: string): Promise<Result<LiveRun>> => {
  if (live?.view().log === log) return ok(live);
  live?.leave();
  live = undefined;
  return become(await openRun(ports, log));
};

const textOf = ({ rig, written }: WrittenDocuments): string => JSON.stringify([rig, written]);

/** Another page may have kept a newer version of a stand, or put it away, while this one stood open. */
const changedMeanwhile = async (asked: WrittenDocuments): Promise<Failed | undefined> => {
  const inForce = (await everyStand()).find(({ rig }) => rig.id === asked.rig.id);
  if (inForce && textOf(inForce) === textOf(asked)) return undefined;
  const detail = "this stand was changed or put away since this page was opened";
  return failed(issue("stand-changed", asked.rig.name, detail, "Load this page again, then start the run."));
};

const begin: Begin = async (documents, { drill, shot }) => {
  const changed = await changedMeanwhile(documents);
  if (changed) return changed;
  // A procedure with an error starts no run. The linter is fetched for this alone, from the offline copy.
  const { prepareRun } = await import("./session/prepare-run.ts");
  const log = newId();
  const phone = Number(remembered("phone", () => "1"));
  const software = `fourfast ${version}`;
  const today = new Date();
  const run = await prepareRun(store, { ...documents, shot, today, phone, log, drill, software });
  if (!run.ok) return run;
  live?.leave();
  live = undefined;
  const started = become(await startRun(ports, run.value));
  if (!started.ok) return started;
  // Asked by a person's tap, when browsers grant it most readily; what the browser answers is in the log.
  void browserReadiness
    .askToKeepStorage()
    .then((kept) =>
      started.value.keep("persistence", kept ? "the browser keeps the records" : "not promised"),
    );
  location.hash = addressOf("stand", log);
  return ok(undefined);
};

/** Apart from the stand's own script, which must not wait for it: nothing at the stand is decided by it. */
const estimate = async (rig: Rig): Promise<Throw | undefined> => {
  const [{ rigShot }, { predict }] = await Promise.all([
    import("../core/plan/rig-shot.ts"),
    import("../core/propulsion/prediction.ts"),
  ]);
  const shot = rigShot(rig, { water_kg: rig.fill.water_kg, setPressure_Pa: rig.pressure.set_Pa });
  const predicted = shot.ok ? predict(shot.value.setup) : shot;
  return predicted.ok ? predicted.value.throw : undefined;
};

const carrier = runCarrier({
  transfer: { share: shareFile, save: saveFile },
  journal: ports.journal,
  preferences,
  now_ms: Date.now,
});

/** A run for the laptop's camera, where there is no network: a page of codes, fetched when it is opened. */
const asCodes = (log: string) => async (): Promise<ComponentType> => {
  const [{ ShowFrames }, stored] = await Promise.all([import("./carry/show-frames.tsx"), store.read(log)]);
  const back = () => {
    location.hash = addressOf("stand", log);
  };
  if (!stored.ok) return () => <ShowFrames what="run" file={stored} onCarried={back} onClose={back} />;
  const { code, documents, entries } = stored.value;
  const file = writeRunFile({ run: code, log, ...documents, entries });
  const carried = async () => {
    const copy = { log, entries: entries.length, words: "read as codes by another device" };
    await carrier.noteCopy(copy, live?.view().log === log ? live : undefined);
    back();
  };
  return () => <ShowFrames what="run" file={file} onCarried={() => void carried()} onClose={back} />;
};

/** Where none was brought in, nothing that reads one is fetched; a stand that cannot be shown never hides that it is there. */
const ownStands = async (): Promise<KeptStands> => {
  const list = await files.list();
  if (list.ok && !list.value.some(({ kind }) => kind === "stand"))
    return { stands: [], away: [], faults: [] };
  try {
    return (await import("./session/kept-stands.ts")).keptStands({ files, preferences });
  } catch {
    const detail = "the part of the app that reads stands is not on this device";
    const remedy = "Open the app once with a network; your stands are kept.";
    return { stands: [], away: [], faults: [issue("stands-not-read", "stands", detail, remedy)] };
  }
};
const everyStand = async () => [...(await ownStands()).stands, ...WRITTEN];
const everyStandAndAway = async () => {
  const { stands, away } = await ownStands();
  return [...stands, ...WRITTEN, ...away];
};

/** Where the phone cannot be: the procedure on paper, with the making-safe card on its back. */
const cardOf = (parts: readonly (string | undefined)[]) => async () => {
  const [{ cardFor }, stands] = await Promise.all([import("./start/card-for.tsx"), everyStandAndAway()]);
  return cardFor(stands, parts, addressOf());
};

const matrixPorts = { files, runs: store, preferences };
/** A plan from a laptop is kept; what it still asks for is offered on the start page. */
const queue: StartProps["queue"] = async (documents) =>
  (await import("./session/matrix-queue.ts")).matrixQueue(matrixPorts, documents);
const keepPlan: StartProps["keepPlan"] = async (text) => {
  const [{ keepMatrix }, stands] = await Promise.all([
    import("./session/matrix-queue.ts"),
    everyStandAndAway(),
  ]);
  return keepMatrix(matrixPorts, { text, at: Date.now(), rigs: stands.map(({ rig }) => rig) });
};

/** Faces for sitting down: the stand never pays for them. */
const LATER = laterFaces({ store, files, preferences, everyStand, keepPlan });

const FACES: readonly Face[] = [
  {
    name: "Bench",
    what: "bring in runs and force files; results, comparison, series",
    address: addressOf("bench"),
  },
  {
    name: "Review",
    what: "what was skipped, hurried, refused or reported in each run",
    address: addressOf("review"),
  },
  {
    name: "Plan",
    what: "what to test next, what it gives, what it can do to you",
    address: addressOf("plan"),
  },
  {
    name: "Stands",
    what: "your own rig and procedure: bring in, look, hand on",
    address: addressOf("stands"),
  },
];

const readiness = async () => {
  const runs = await store.list();
  return browserReadiness.probe({
    logWritable: async () => (await store.probe()).ok,
    newestEntry_ms: runs.ok ? Math.max(0, ...runs.value.map((run) => run.openedAt)) || undefined : undefined,
    lastExport_ms: carrier.lastCopy_ms(),
  });
};

/** The same function as long as the address is the same: what is loaded stays loaded. */
const useLater = (address: Address) =>
  useMemo(() => {
    const [face, part] = address;
    if (face === "card") return cardOf(address.slice(1));
    if (face === "codes" && part !== undefined) return asCodes(part);
    return face && LATER[face];
  }, [address.join("/")]);

function App() {
  const address = useAddress();
  const [face, log] = address;
  const later = useLater(address);
  if (face === "stand" && log !== undefined)
    return (
      <OpenStand
        key={log}
        log={log}
        open={open}
        lastCrew={(id, rig) => lastCrew(store, id, rig)}
        estimate={estimate}
        carry={carrier.hand}
        preferences={preferences}
        onLeave={() => {
          location.hash = addressOf();
        }}
      />
    );
  if (later) return <Later key={face} load={later} />;
  return (
    <Start
      ownStands={ownStands}
      shipped={WRITTEN}
      standsAddress={addressOf("stands")}
      runs={store.list}
      begin={begin}
      queue={queue}
      keepPlan={keepPlan}
      readCodeAddress={addressOf("read-plan")}
      readiness={readiness}
      updates={updates}
      faces={FACES}
      standAddress={(id) => addressOf("stand", id)}
      cardAddress={(rig, shot) =>
        addressOf("card", rig, ...(shot ? [`${shot.water_kg}`, `${shot.setPressure_Pa}`] : []))
      }
      version={version}
    />
  );
}

const place = document.getElementById("app");
if (place) {
  place.replaceChildren();
  render(<App />, place);
}
