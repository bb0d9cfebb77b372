import type { DeskPorts } from "../../../app/bench/desk.ts";
import type { ForceWork } from "../../../app/ports.ts";
import { createMemoryFileStore } from "../../../app/storage/memory-file-store.ts";
import { createMemoryRunStore } from "../../../app/storage/memory-run-store.ts";
import { watchStore } from "../../../app/storage/watch-store.ts";
import { forceTasks } from "../../../app/worker/force-tasks.ts";

/** The worker's own work without a worker. */
export function forceWorkHere(): ForceWork {
  const tasks = forceTasks();
  return {
    read: (source, options, work) => tasks.read({ source, options }, work?.onProgress ?? (() => {})),
    reduce: (source, request, work) => tasks.reduce({ source, request }, work?.onProgress ?? (() => {})),
    fit: (source, request, event) => tasks.fit({ source, request, event }, () => {}),
    curves: (source, request, view) => tasks.curves({ source, request, view }, () => {}),
  };
}

/** A device's stores in memory; a second desk on the same ports is the same device opened again. */
export function deskPorts(): DeskPorts {
  let now = 1_760_000_000_000;
  const choices = new Map<string, string>();
  return {
    runs: watchStore(createMemoryRunStore(), { after: () => () => {} }),
    files: createMemoryFileStore(),
    force: forceWorkHere(),
    now_ms: () => now++,
    preferences: { read: (key) => choices.get(key), write: (key, value) => choices.set(key, value) },
  };
}
