import type { WriterLock } from "../ports.ts";

/** One name for every run: the update check asks for it too (app/offline), and a phone writes one run at a time. */
const NAME = "run-writer";

type Taken = Awaited<ReturnType<WriterLock["take"]>>;

const NEVER = new Promise<void>(() => {});

/**
 * The writer lock on Web Locks. Where a browser has none (no secure context) it is refused rather
 * than pretended: two writers would fork a log.
 */
export const createWriterLock = (locks: LockManager | undefined): WriterLock => ({
  take: (over) =>
    new Promise<Taken>((answer) => {
      const refused: Taken = { granted: false, release: () => {}, lost: NEVER };
      if (!locks) return answer(refused);
      let lose = (): void => {};
      const lost = new Promise<void>((resolve) => {
        lose = resolve;
      });
      const hold = (lock: Lock | null): Promise<void> | undefined => {
        if (!lock) {
          answer(refused);
          return undefined;
        }
        return new Promise<void>((release) => answer({ granted: true, release, lost }));
      };
      const options: LockOptions = over === "takeover" ? { steal: true } : { ifAvailable: true };
      // The request ends with a rejection when another page steals the lock.
      locks.request(NAME, options, hold).catch(() => {
        answer(refused);
        lose();
      });
    }),
});
