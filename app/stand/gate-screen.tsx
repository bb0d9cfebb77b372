import { stepsOf } from "../../core/procedure/procedure.ts";
import type { Gate } from "../../core/sequence/facts.ts";
import type { SequenceEvent } from "../../core/sequence/vocabulary.ts";
import { CALL, STATE_TITLE } from "../text.ts";
import { Button } from "../widgets/button.tsx";
import { withRun } from "../widgets/log-words.ts";
import { PressHold } from "../widgets/press-hold.tsx";
import { SitePlan } from "../widgets/site-plan.tsx";
import { MissingList, Remedies } from "./missing-list.tsx";
import { type Screen, STATE_AFTER } from "./screen.ts";
import { ThrowNumber } from "./throw-number.tsx";
import type { Turn } from "./turn.ts";

/** Calls that lead away from the safe side are held, or made in two taps far apart (SAFETY A36). */
const HELD: readonly Gate[] = ["air-called", "arm-called", "discharge-called"];

type GateOf = Extract<Screen, { kind: "gate" }>;

/** All steps are done: the stage is closed aloud, and the next one opens or says why not. */
export function GateScreen({ turn, gate }: { readonly turn: Turn; readonly gate: GateOf }) {
  const { call, missing } = gate;
  const { title, say } = CALL[call];
  const withPlan = call === "line-called" || call === "arm-called";
  return (
    <>
      {missing.length > 0 && <div class="hatch" />}
      <h1 tabIndex={-1} class={missing.length === 0 ? "" : "act"}>
        {missing.length === 0 ? title : "Not open yet"}
      </h1>
      {missing.length === 0 ? (
        <>
          <p class="call">“{say}”</p>
          <Skipped turn={turn} />
          {!withPlan && !isConfirming(turn) && <Ahead turn={turn} call={call} />}
          {withPlan && <SitePlan rig={turn.view.rig} />}
          {(call === "line-called" || call === "air-called") && <ThrowNumber estimate={turn.estimate} />}
          <CallButton turn={turn} call={call} />
        </>
      ) : (
        <>
          <MissingList view={turn.view} missing={missing} />
          <Remedies turn={turn} missing={missing} />
        </>
      )}
    </>
  );
}

export function CallButton({ turn, call }: { readonly turn: Turn; readonly call: Gate }) {
  const { act } = CALL[call];
  const make = (input: Event) => void turn.say({ type: call } as SequenceEvent, input);
  if (HELD.includes(call)) return <HeldCall turn={turn} act={act} onConfirm={make} />;
  return (
    <div class="answer-row">
      <Button look="go" critical onPress={make}>
        {act}
      </Button>
    </div>
  );
}

type HeldProps = { readonly turn: Turn; readonly act: string; readonly onConfirm: (input: Event) => void };

/** The second page of the two-tap way: what is confirmed, the confirmation and the way back, nothing else. */
export const isConfirming = ({ page }: Turn): boolean => page.endsWith("two-taps");

/** The two-tap way is a page of its own, so that its confirmation is guarded like any new screen. */
export function HeldCall({ turn, act, onConfirm }: HeldProps) {
  const { page, turnTo } = turn;
  const home = page.replace(/ ?two-taps$/, "");
  return (
    <PressHold
      act={act}
      onConfirm={onConfirm}
      chosen={page !== home}
      onChoose={(chosen) => turnTo(chosen ? `${home} two-taps` : home)}
    />
  );
}

/** What was skipped in this stage is read back before it closes (SAFETY A25). */
function Skipped({ turn: { view } }: { readonly turn: Turn }) {
  const skipped = stepsOf(view.procedure, view.snapshot.state).filter(
    ({ id }) => view.snapshot.context.steps[id]?.how === "skipped",
  );
  if (skipped.length === 0) return null;
  return (
    <p class="near-by skipped">
      <b>Skipped</b> <span>{skipped.map(({ text }) => text).join(" ")}</span>
    </p>
  );
}

/** The stage that the call opens, as far as it fits: read ahead, while nothing is under way. */
function Ahead({ turn: { view }, call }: { readonly turn: Turn; readonly call: Gate }) {
  const state = STATE_AFTER[call];
  const steps = state ? stepsOf(view.procedure, state) : [];
  if (!state || steps.length === 0) return null;
  return (
    <div class="why">
      <b>{STATE_TITLE[state]}</b>
      <ol class="ahead">
        {steps.slice(0, AHEAD).map(({ id, text }) => (
          <li key={id}>{withRun(text, view.code)}</li>
        ))}
      </ol>
    </div>
  );
}

const AHEAD = 3;
