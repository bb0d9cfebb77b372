import type { ComponentChildren, ComponentType } from "preact";
import { standText } from "../../core/exchange/stand-text.ts";
import type { WrittenDocuments } from "../../core/procedure/rig-numbers.ts";
import { type Issue, issue } from "../../core/result.ts";
import "../widgets/desk.css";
import { BringStand } from "./bring-stand.tsx";
import { CheckStand } from "./check-stand.tsx";
import { FaultList } from "./fault-list.tsx";
import { StandSheet } from "./stand-sheet.tsx";
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
        <p role="status">{hand.told}</p>
        <Lists ports={ports} hand={hand} />
      </main>
    </div>
  );
}

type PartProps = { readonly ports: StandsPorts; readonly hand: StandsInHand };

/** What was just brought, until somebody has decided about it. */
function AtHand({ ports, hand: { kept, doing, turnTo, judge, keep } }: PartProps) {
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
      onApprove={(by) => void judge([{ name: "as approved", text: approvedText(documents, by) }])}
      onLeave={stop}
    />
  );
}

function Lists({ ports, hand }: PartProps) {
  const { kept, move } = hand;
  const sheet = (stand: WrittenDocuments, own?: ComponentChildren) => (
    <StandSheet key={stand.rig.id} stand={stand}>
      <button type="button" class="button" onClick={() => void hand.give(stand, "share")}>
        Share its file
      </button>
      <button type="button" class="button" onClick={() => void hand.give(stand, "save")}>
        Save its file
      </button>
      <button type="button" class="button" onClick={() => hand.turnTo({ kind: "showing", stand })}>
        Show as codes
      </button>
      <a class="button" href={ports.cardAddress(stand.rig.id)}>
        Paper card
      </a>
      {own}
    </StandSheet>
  );
  return (
    <>
      <section class="sheet" aria-labelledby="own-stands">
        <h2 id="own-stands">Your stands</h2>
        {kept && kept.faults.length > 0 && <FaultList title="Cannot be read" issues={kept.faults} />}
        {kept?.stands.length === 0 && (
          <p class="empty">
            None yet. Save an invented stand's file from below, change it to what yours is, and bring it in:
            whatever does not fit is listed, with what to do.
          </p>
        )}
        {kept?.stands.map((stand) =>
          sheet(
            stand,
            <button type="button" class="button" onClick={() => void move(stand, true)}>
              Put away
            </button>,
          ),
        )}
      </section>
      {kept && kept.away.length > 0 && (
        <section class="sheet" aria-labelledby="away-stands">
          <h2 id="away-stands">Put away</h2>
          {kept.away.map((stand) =>
            sheet(
              stand,
              <button type="button" class="button" onClick={() => void move(stand, false)}>
                Bring back
              </button>,
            ),
          )}
        </section>
      )}
      <section class="sheet" aria-labelledby="invented-stands">
        <h2 id="invented-stands">Invented stands, to try and to copy</h2>
        {ports.shipped.map((stand) => sheet(stand))}
      </section>
    </>
  );
}

const approvedText = ({ rig, written }: WrittenDocuments, by: string): string =>
  standText({ rig, written: { ...written, approvedBy: by } });

const tooLarge = (name: string): Issue =>
  issue("stand-unreadable", name, "it is larger than any stand's file", "Choose the stand's own file.");
