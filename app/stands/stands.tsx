import type { ComponentType } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { standText } from "../../core/exchange/stand-text.ts";
import { type Issue, issue } from "../../core/result.ts";
import "../widgets/desk.css";
import { BringStand } from "./bring-stand.tsx";
import { CheckStand } from "./check-stand.tsx";
import { FaultList } from "./fault-list.tsx";
import { StandLists } from "./stand-lists.tsx";
import "./stands.css";
import { type StandsInHand, type UseStandsPorts, useStands } from "./use-stands.ts";

export type StandsPorts = UseStandsPorts & {
  /** A stand's file for another device's camera. */
  readonly ShowCodes: ComponentType<{ readonly text: string; readonly onClose: () => void }>;
  readonly ReadCodes: ComponentType<{
    readonly onText: (text: string, code: string) => void;
    readonly onClose: () => void;
  }>;
  readonly cardAddress: (rig: string) => string;
};

/** The stands of this device: what is brought in here is what runs are started on. */
export function Stands({ ports, home }: { readonly ports: StandsPorts; readonly home: string }) {
  const hand = useStands(ports);
  const { doing, turnTo } = hand;
  if (doing.kind === "showing")
    return <ports.ShowCodes text={standText(doing.stand)} onClose={() => turnTo({ kind: "looking" })} />;
  return (
    <div class="desk stands-face">
      <header class="desk-top">
        <h1>Stands</h1>
        <nav aria-label="Other faces" class="no-print">
          <a href={home}>Start</a>
        </nav>
      </header>
      <main>
        <BringStand
          onTexts={(texts) => void hand.judge(texts)}
          onUnreadable={(name) => turnTo({ kind: "refused", issues: [tooLarge(name)] })}
          onCodes={() => turnTo({ kind: "reading" })}
        />
        <AtHand ports={ports} hand={hand} />
        <Told words={hand.told} />
        <StandLists shipped={ports.shipped} cardAddress={ports.cardAddress} hand={hand} />
      </main>
    </div>
  );
}

/** What became of the last act: where the eye, and a screen reader, go on from. */
function Told({ words }: { readonly words: string }) {
  const line = useRef<HTMLParagraphElement>(null);
  useEffect(() => {
    if (words !== "") line.current?.focus();
  }, [words]);
  return (
    <p ref={line} role="status" tabIndex={-1} class="stand-told">
      {words}
    </p>
  );
}

type PartProps = { readonly ports: StandsPorts; readonly hand: StandsInHand };

/** What was just brought, until somebody has decided about it. */
function AtHand({ ports, hand: { kept, doing, turnTo, judge, approve, keep } }: PartProps) {
  const stop = () => turnTo({ kind: "looking" });
  if (doing.kind === "reading")
    return (
      <ports.ReadCodes
        onText={(text, code) => void judge([{ name: `the codes of ${code}`, text }])}
        onClose={stop}
      />
    );
  if (doing.kind === "refused") return <FaultList title="Not kept" issues={doing.issues} onClose={stop} />;
  if (doing.kind !== "checking") return null;
  const { documents } = doing.read;
  const known = [...(kept?.stands ?? []), ...(kept?.away ?? [])];
  return (
    <CheckStand
      read={doing.read}
      before={known.find(({ rig }) => rig.id === documents.rig.id)}
      onKeep={() => void keep(documents)}
      refused={doing.refused ?? []}
      others={[...known, ...ports.shipped].filter(({ rig }) => rig.id !== documents.rig.id)}
      onApprove={(by) => approve(doing.read, by)}
      onLeave={stop}
    />
  );
}

const tooLarge = (name: string): Issue =>
  issue("stand-unreadable", name, "it is larger than any stand's file", "Choose the stand's own file.");
