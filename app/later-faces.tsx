import type { ComponentType } from "preact";
import type { PlannedMatrix } from "../core/plan/matrix-file.ts";
import type { WrittenDocuments } from "../core/procedure/rig-numbers.ts";
import { verifyEntries } from "../core/record/verify.ts";
import { ok, type Result } from "../core/result.ts";
import type { SignOff } from "../core/review/sign-off.ts";
import { addressOf } from "./address.ts";
import type { ReadCodesProps } from "./bench/take-in-strip.tsx";
import { WRITTEN } from "./demo/written.ts";
import type { FileStore, Preferences, RunStore } from "./ports.ts";
import { saveFile } from "./transfer/save-file.ts";
import { shareFile } from "./transfer/share-file.ts";

export type LaterPorts = {
  readonly store: RunStore;
  readonly files: FileStore;
  readonly preferences: Preferences;
  readonly everyStand: () => Promise<readonly WrittenDocuments[]>;
  readonly keepPlan: (text: string) => Promise<Result<PlannedMatrix>>;
};

export type LaterFaces = { readonly [face: string]: () => Promise<ComponentType> };

/**
 * COMPOSITION ROOT of the faces for sitting down, each with its own adapters, fetched when it is
 * opened: the stand never pays for them.
 */
export const laterFaces = (ports: LaterPorts): LaterFaces => ({
  bench: () => bench(ports),
  review: () => review(ports),
  plan: () => plan(ports),
  stands: () => stands(ports),
  "read-plan": () => readPlan(ports),
});

async function bench({ store, files, preferences }: LaterPorts): Promise<ComponentType> {
  const [{ Bench }, { forceWork }, { ReadFrames }, { codeSight }, { createCamera }] = await Promise.all([
    import("./bench/bench.tsx"),
    import("./worker/force-work.ts"),
    import("./carry/read-frames.tsx"),
    import("./worker/code-sight.ts"),
    import("./device/camera.ts"),
  ]);
  const eyes = { camera: createCamera(navigator.mediaDevices), sight: codeSight() };
  const ports = {
    runs: store,
    files,
    force: forceWork(),
    transfer: { save: saveFile },
    preferences,
    now_ms: Date.now,
    demo: async () => (await import("./demo/term/term.ts")).demoTerm,
    ReadCodes: (told: ReadCodesProps) => <ReadFrames what="run" {...eyes} {...told} />,
  };
  return () => <Bench ports={ports} home={addressOf()} />;
}

async function review({ store, files }: LaterPorts): Promise<ComponentType> {
  const [{ Review }, { keepSignOff, keptSignOffs }] = await Promise.all([
    import("./review/review.tsx"),
    import("./session/sign-offs.ts"),
  ]);
  const runs = async () => {
    const list = await store.list();
    if (!list.ok) return list;
    const read = await Promise.all(
      list.value.map(async ({ log, code }) => {
        const run = await store.read(log);
        const whole = run.ok ? verifyEntries(run.value.entries, (i) => `${code}, entry ${i}`) : run;
        return run.ok
          ? { run: { ...run.value, faults: whole.ok ? [] : whole.issues } }
          : { unread: run.issues };
      }),
    );
    return ok({
      runs: read.flatMap(({ run }) => run ?? []),
      faults: read.flatMap(({ unread }) => unread ?? []),
    });
  };
  const ports = {
    runs,
    signOffs: () => keptSignOffs(files),
    sign: (signed: SignOff) => keepSignOff(files, signed),
    now_ms: Date.now,
  };
  return () => <Review ports={ports} home={addressOf()} />;
}

async function plan({ store, files, preferences, everyStand }: LaterPorts): Promise<ComponentType> {
  const [{ Plan }, { ShowPlan }, known] = await Promise.all([
    import("./plan/plan.tsx"),
    import("./carry/show-plan.tsx"),
    everyStand(),
  ]);
  const rigs = known.map(({ rig }) => rig);
  const ports = { files, runs: store, preferences, rigs, transfer: { save: saveFile }, ShowCode: ShowPlan };
  return () => <Plan ports={ports} home={addressOf()} />;
}

async function stands({ files, preferences }: LaterPorts): Promise<ComponentType> {
  const [{ Stands }, { ShowFrames }, { ReadFrames }, { codeSight }, { createCamera }] = await Promise.all([
    import("./stands/stands.tsx"),
    import("./carry/show-frames.tsx"),
    import("./carry/read-frames.tsx"),
    import("./worker/code-sight.ts"),
    import("./device/camera.ts"),
  ]);
  const eyes = { camera: createCamera(navigator.mediaDevices, "behind"), sight: codeSight() };
  const ports = {
    files,
    preferences,
    shipped: WRITTEN,
    transfer: { share: shareFile, save: saveFile },
    now_ms: Date.now,
    ShowCodes: ({ text, onClose }: { readonly text: string; readonly onClose: () => void }) => (
      <ShowFrames what="stand" file={ok(text)} onCarried={onClose} onClose={onClose} />
    ),
    ReadCodes: (told: ReadCodesProps) => <ReadFrames what="stand" {...eyes} {...told} />,
    cardAddress: (rig: string) => addressOf("card", rig),
  };
  return () => <Stands ports={ports} home={addressOf()} />;
}

/** Reached from the start page: the phone's camera on the laptop's screen. */
async function readPlan({ keepPlan }: LaterPorts): Promise<ComponentType> {
  const [{ ReadPlan }, { codeSight }, { createCamera }] = await Promise.all([
    import("./carry/read-plan.tsx"),
    import("./worker/code-sight.ts"),
    import("./device/camera.ts"),
  ]);
  const eyes = { camera: createCamera(navigator.mediaDevices, "behind"), sight: codeSight() };
  return () => <ReadPlan {...eyes} keepPlan={keepPlan} home={addressOf()} />;
}
