import { useRef, useState } from "preact/hooks";
import {
  addFrame,
  type Collected,
  missingFrames,
  readFrame,
  type Verdict,
} from "../../core/exchange/collect-frames.ts";
import type { Issue, Result } from "../../core/result.ts";

type Drawn = {
  readonly collected: Collected | undefined;
  /** What the last code was. */
  readonly verdict: Verdict | undefined;
  /** Code of the other run whose frames are being shown. */
  readonly other: string | undefined;
  readonly issues: readonly Issue[];
};

export type Collecting = Drawn & {
  readonly take: (bytes: Uint8Array) => void;
  readonly startOver: () => void;
};

const NOTHING: Drawn = { collected: undefined, verdict: undefined, other: undefined, issues: [] };

const codeOf = (bytes: Uint8Array): string | undefined => {
  const frame = readFrame(bytes);
  return typeof frame === "object" ? frame.code : undefined;
};

/** What the camera saw so far. `onWhole` is told once, when everything is there and `restore` finds it right. */
export const useCollect = (
  restore: (collected: Collected) => Result<string>,
  onWhole: (text: string, code: string) => void,
): Collecting => {
  // Codes come faster than the page is drawn: the truth is here, the state below only draws it.
  const truth = useRef<Collected | undefined>(undefined);
  const [drawn, setDrawn] = useState(NOTHING);
  const take = (bytes: Uint8Array): void => {
    const { verdict, collected } = addFrame(truth.current, bytes);
    // A blurred code says nothing; it comes round again.
    if (verdict === "damaged") return;
    if (collected === truth.current) {
      const other = verdict === "other-run" ? codeOf(bytes) : undefined;
      setDrawn((now) => (now.verdict === verdict && now.other === other ? now : { ...now, verdict, other }));
      return;
    }
    truth.current = collected;
    const text = collected && missingFrames(collected).length === 0 ? restore(collected) : undefined;
    setDrawn({ collected, verdict, other: undefined, issues: text && !text.ok ? text.issues : [] });
    if (text?.ok) onWhole(text.value, collected?.code ?? "");
  };
  const startOver = () => {
    truth.current = undefined;
    setDrawn(NOTHING);
  };
  return { ...drawn, take, startOver };
};
