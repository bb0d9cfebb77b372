import { useEffect, useState } from "preact/hooks";
import { type ReadStand, readStand } from "../../core/exchange/read-stand.ts";
import type { NamedText } from "../../core/exchange/stand-parts.ts";
import { standName, standText } from "../../core/exchange/stand-text.ts";
import type { WrittenDocuments } from "../../core/procedure/rig-numbers.ts";
import type { Issue } from "../../core/result.ts";
import type { Handed, Transfer } from "../ports.ts";
import {
  type KeptStands,
  keepStand,
  keptStands,
  objections,
  putAway,
  type StandPorts,
} from "../session/kept-stands.ts";

export type UseStandsPorts = StandPorts & {
  /** The invented stands that came with the app. */
  readonly shipped: readonly WrittenDocuments[];
  readonly transfer: Pick<Transfer, "share" | "save">;
  readonly now_ms: () => number;
};

/** What the page is about at the moment. */
export type Doing =
  | { readonly kind: "looking" }
  | { readonly kind: "showing"; readonly stand: WrittenDocuments }
  | { readonly kind: "reading" }
  | { readonly kind: "refused"; readonly issues: readonly Issue[] }
  | {
      readonly kind: "checking";
      readonly read: ReadStand;
      /** Why the approval that was tried does not count. */
      readonly refused?: readonly Issue[];
    };

export type StandsInHand = {
  /** Undefined until the store has answered. */
  readonly kept: KeptStands | undefined;
  readonly doing: Doing;
  readonly turnTo: (doing: Doing) => void;
  /** What became of the last act, in words. */
  readonly told: string;
  /** Reads a stand out of these texts: to be looked at, or refused with every fault. */
  readonly judge: (texts: readonly NamedText[]) => Promise<void>;
  /** What is being checked, with a code under it. */
  readonly approve: (read: ReadStand, by: string) => void;
  readonly keep: (documents: WrittenDocuments) => Promise<void>;
  readonly move: (stand: WrittenDocuments, isAway: boolean) => Promise<void>;
  /** Its file leaves this device, by the share sheet or into the downloads. */
  readonly give: (stand: WrittenDocuments, way: "share" | "save") => Promise<void>;
};

const HANDED: Record<Handed, string> = {
  handed: "A copy of its file has left this page.",
  cancelled: "Not shared: the sheet was closed.",
  "not-supported": "This browser shares no files: save it, or show it as codes.",
};

const keptWords = ({ rig, written }: WrittenDocuments): string =>
  written.approvedBy === undefined
    ? `Kept: ${rig.name}. It waits for somebody to approve its procedure.`
    : `Kept: ${rig.name}. Runs are started on it from the start page.`;

const refused = (issues: readonly Issue[]): Doing => ({ kind: "refused", issues });

export function useStands(ports: UseStandsPorts): StandsInHand {
  const [kept, setKept] = useState<KeptStands>();
  const [doing, turnTo] = useState<Doing>({ kind: "looking" });
  const [told, setTold] = useState("");
  const reload = async (): Promise<KeptStands> => {
    const found = await keptStands(ports);
    setKept(found);
    return found;
  };
  useEffect(() => void reload(), [ports]);
  const today = () => new Date(ports.now_ms()).toISOString().slice(0, 10);
  return {
    kept,
    doing,
    turnTo,
    told,
    judge: async (texts) => {
      setTold("");
      // Another page may have kept something since this one looked.
      const { stands, away } = await reload();
      const read = readStand(texts, [...stands, ...away, ...ports.shipped], today());
      if (!read.ok) return turnTo(refused(read.issues));
      const against = await objections(ports, read.value.documents, ports.shipped);
      turnTo(against.length > 0 ? refused(against) : { kind: "checking", read: read.value });
    },
    approve: (read, by) => {
      const { rig, written } = read.documents;
      const text = standText({ rig, written: { ...written, approvedBy: by } });
      const approved = readStand([{ name: "as approved", text }], [], today());
      turnTo({
        kind: "checking",
        ...(approved.ok ? { read: approved.value } : { read, refused: approved.issues }),
      });
    },
    keep: async (documents) => {
      const done = await keepStand(ports, { documents, at: ports.now_ms(), shipped: ports.shipped });
      turnTo(done.ok ? { kind: "looking" } : refused(done.issues));
      if (done.ok) setTold(keptWords(documents));
      await reload();
    },
    move: async ({ rig }, isAway) => {
      putAway(ports, rig.id, isAway);
      setTold(
        isAway
          ? `${rig.name} is put away: its runs stay, and it can be brought back.`
          : `${rig.name} is back.`,
      );
      await reload();
    },
    give: async (stand, way) => {
      const handed = await ports.transfer[way](standName(stand.rig.id), standText(stand));
      if (!handed.ok) return turnTo(refused(handed.issues));
      setTold(HANDED[handed.value]);
    },
  };
}
