import type { ComponentChildren } from "preact";
import { standText } from "../../core/exchange/stand-text.ts";
import type { WrittenDocuments } from "../../core/procedure/rig-numbers.ts";
import { FaultList } from "./fault-list.tsx";
import { StandSheet } from "./stand-sheet.tsx";
import type { StandsInHand } from "./use-stands.ts";

type Props = {
  readonly shipped: readonly WrittenDocuments[];
  readonly cardAddress: (rig: string) => string;
  readonly hand: StandsInHand;
};

/** Every stand that this device knows: a team's own, those put away, the invented ones. */
export function StandLists({ shipped, cardAddress, hand }: Props) {
  const { kept } = hand;
  const common = { hand, cardAddress };
  return (
    <>
      <section class="sheet" aria-labelledby="own-stands">
        <h2 id="own-stands">Your stands</h2>
        {kept && kept.faults.length > 0 && <FaultList title="Cannot be read" issues={kept.faults} />}
        {kept?.stands.length === 0 && kept.faults.length === 0 && (
          <p class="empty">
            None yet. Save an invented stand's file from below, change it to what yours is, and bring it in:
            whatever does not fit is listed, with what to do.
          </p>
        )}
        {kept?.stands.map((stand) => (
          <OneStand key={stand.rig.id} stand={stand} {...common}>
            {stand.written.approvedBy === undefined && <Approve stand={stand} hand={hand} />}
            <button type="button" class="button" onClick={() => void hand.move(stand, true)}>
              Put away
            </button>
          </OneStand>
        ))}
      </section>
      {kept && kept.away.length > 0 && (
        <section class="sheet" aria-labelledby="away-stands">
          <h2 id="away-stands">Put away</h2>
          {kept.away.map((stand) => (
            <OneStand key={stand.rig.id} stand={stand} {...common}>
              <button type="button" class="button" onClick={() => void hand.move(stand, false)}>
                Bring back
              </button>
            </OneStand>
          ))}
        </section>
      )}
      <section class="sheet" aria-labelledby="invented-stands">
        <h2 id="invented-stands">Invented stands, to try and to copy</h2>
        {shipped.map((stand) => (
          <OneStand key={stand.rig.id} stand={stand} {...common} />
        ))}
      </section>
    </>
  );
}

type OneProps = Omit<Props, "shipped"> & {
  readonly stand: WrittenDocuments;
  readonly children?: ComponentChildren;
};

function OneStand({ stand, hand, cardAddress, children }: OneProps) {
  return (
    <StandSheet stand={stand}>
      <button type="button" class="button" onClick={() => void hand.give(stand, "share")}>
        Share its file
      </button>
      <button type="button" class="button" onClick={() => void hand.give(stand, "save")}>
        Save its file
      </button>
      <button type="button" class="button" onClick={() => hand.turnTo({ kind: "showing", stand })}>
        Show as codes
      </button>
      <a class="button" href={cardAddress(stand.rig.id)}>
        Paper card
      </a>
      {children}
    </StandSheet>
  );
}

function Approve({ stand, hand }: Pick<OneProps, "stand" | "hand">) {
  const file = { name: stand.rig.name, text: standText(stand) };
  return (
    <button type="button" class="button" onClick={() => void hand.judge([file])}>
      Read and approve
    </button>
  );
}
