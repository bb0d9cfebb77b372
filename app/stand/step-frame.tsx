import type { ComponentChildren } from "preact";
import { type Step, type StepHold, type StepWarning, stepsOf } from "../../core/procedure/procedure.ts";
import type { RunView } from "../session/live-run.ts";
import { PLACE_NAME, ROLE_NAME, STATE_TITLE } from "../text.ts";
import { Button } from "../widgets/button.tsx";
import { withRun } from "../widgets/log-words.ts";
import type { Turn } from "./turn.ts";

type Props = {
  readonly turn: Turn;
  readonly step: Step;
  readonly heading?: ComponentChildren;
  readonly caught?: string | undefined;
  /** The warning has been read on the page before: its first sentence stays. */
  readonly brief?: boolean;
  readonly children?: ComponentChildren;
};

/** What a step says before it is answered: the warning first, who does it, the one act, why. */
export function StepFrame({ turn, step, heading, caught, brief = false, children }: Props) {
  return (
    <>
      {step.hold && <div class="hatch" />}
      {caught !== undefined && (
        <p class="caught">
          <b>Caught:</b> {caught}. Put it right, then look again.
        </p>
      )}
      {step.warning && <WarningBlock warning={step.warning} brief={brief} />}
      {heading ?? (
        <h1 tabIndex={-1} class={brief ? "act brief" : "act"}>
          <Who step={step} /> {withRun(step.text, turn.view.code)}
        </h1>
      )}
      {step.why && !heading && !brief && <p class="why">{step.why}</p>}
      {step.hold && !brief && <HoldPoint hold={step.hold} />}
      {children}
    </>
  );
}

export function Who({ step }: { readonly step: Step }) {
  return (
    <span class="who">
      {ROLE_NAME[step.role]} · {PLACE_NAME[step.place]}
    </span>
  );
}

type WarningProps = { readonly warning: StepWarning; readonly brief?: boolean };

export function WarningBlock({ warning, brief }: WarningProps) {
  return (
    <p class={brief ? "warning brief" : "warning"}>
      <strong>{warning.signal}</strong> {warning.hazard} {!brief && `${warning.result} ${warning.avoid}`}
    </p>
  );
}

/** A hold point says who opens it and what a "no" leads to, before it is answered. */
function HoldPoint({ hold }: { readonly hold: StepHold }) {
  return (
    <p class="hold-point">
      <b>{ROLE_NAME[hold.opens]} opens this.</b> If not: {hold.onNo}
    </p>
  );
}

/** The first page of a step that does not fit: read, then answer. */
export function ReadPage(props: Props) {
  return (
    <>
      <StepFrame {...props} />
      <div class="answer-row">
        <Button look="go" critical onPress={() => props.turn.turnTo("answer")}>
          Read. Go on
        </Button>
      </div>
    </>
  );
}

export function SkipButton({ turn, step }: { readonly turn: Turn; readonly step: Step }) {
  return <Button onPress={() => turn.show({ kind: "skip", step: step.id })}>Skip…</Button>;
}

/** "2 of 5" within the stage, or what the state itself is about. */
export const partOf = (view: RunView, steps: readonly Step[]): string => {
  const phase = stepsOf(view.procedure, view.snapshot.state);
  const [first] = steps;
  if (!first) return STATE_TITLE[view.snapshot.state];
  const from = phase.indexOf(first) + 1;
  const to = from + steps.length - 1;
  return from === to ? `${from} of ${phase.length}` : `${from} to ${to} of ${phase.length}`;
};
