import type { Step } from "../../core/procedure/procedure.ts";
import { waitedAtLeast_ms } from "../../core/sequence/clock.ts";
import { Answers } from "../widgets/answers.tsx";
import { Button } from "../widgets/button.tsx";
import { withRun } from "../widgets/log-words.ts";
import { done } from "./done.ts";
import { MeasureScreen } from "./measure-screen.tsx";
import { ReadPage, SkipButton, StepFrame, Who } from "./step-frame.tsx";
import type { Turn } from "./turn.ts";

type Props = { readonly turn: Turn; readonly step: Step; readonly caught?: string | undefined };

/** One step, in the form that its procedure gives it. */
export function StepScreen({ turn, step, caught }: Props) {
  switch (step.form.kind) {
    case "look":
      return <LookScreen turn={turn} step={step} caught={caught} />;
    case "measure":
      return <MeasureScreen key={step.id} turn={turn} step={step} form={step.form} caught={caught} />;
    case "say":
      return <SayScreen turn={turn} step={step} />;
    case "wait":
      return <WaitScreen turn={turn} step={step} seconds={step.form.seconds} />;
    default:
      return <ActsScreen turn={turn} steps={[step]} />;
  }
}

/** Routine acts share a screen; each is still an entry of its own, in order. */
export function ActsScreen({ turn, steps }: { readonly turn: Turn; readonly steps: readonly Step[] }) {
  const { view, say } = turn;
  const [first] = steps;
  if (!first) return null;
  // All at once: the session takes them one at a time, in order, and each waits for the one before.
  const all = (tap: Event) => {
    for (const step of steps) void say(done(turn, step), tap);
  };
  const heading =
    steps.length > 1 ? (
      <>
        <h1 tabIndex={-1} class="act">
          <Who step={first} />
          <span class="unseen">{steps.length} acts</span>
        </h1>
        <ol class="acts">
          {steps.map((step) => (
            <li key={step.id}>{withRun(step.text, view.code)}</li>
          ))}
        </ol>
      </>
    ) : undefined;
  return (
    <>
      <StepFrame turn={turn} step={first} heading={heading} />
      <div class="answer-row">
        {first.skippable && <SkipButton turn={turn} step={first} />}
        <Button look="go" critical onPress={all}>
          {steps.length > 2 ? `All ${steps.length} done` : steps.length === 2 ? "Both done" : "Done"}
        </Button>
      </div>
    </>
  );
}

export function LookScreen({ turn, step, caught }: Props) {
  const frame = { turn, step, caught };
  if (turn.paged && turn.page === "") return <ReadPage {...frame} />;
  const answers = step.form.kind === "look" ? step.form.answers : [];
  return (
    <>
      <StepFrame {...frame} brief={turn.page === "answer"} />
      <Answers
        answers={answers.map(({ text, good }) => ({ id: text, text, good }))}
        onAnswer={(answer, tap) => void turn.say(done(turn, step, { answer }), tap)}
      />
    </>
  );
}

/** Challenge and reply; where both do not fit they come one after the other, as they are spoken. */
function SayScreen({ turn, step }: Props) {
  if (step.form.kind !== "say") return null;
  const { words, reply } = step.form;
  const { code } = turn.view;
  const challenge = <Spoken label="Say" words={withRun(words, code)} />;
  if (turn.paged && turn.page === "")
    return (
      <ReadPage turn={turn} step={step}>
        {!step.warning && challenge}
      </ReadPage>
    );
  const heading = (
    <h1 tabIndex={-1} class="unseen">
      {withRun(step.text, code)}
    </h1>
  );
  const second = turn.page === "answer";
  return (
    <>
      <StepFrame turn={turn} step={step} brief={second} {...(second && { heading })}>
        {(!second || step.warning) && challenge}
        <Spoken label="Hear" words={withRun(reply, code)} />
      </StepFrame>
      <div class="answer-row">
        {step.skippable && <SkipButton turn={turn} step={step} />}
        <Button look="go" critical onPress={(tap) => void turn.say(done(turn, step), tap)}>
          Said, and heard back
        </Button>
      </div>
    </>
  );
}

export function Spoken({ label, words }: { readonly label: "Say" | "Hear"; readonly words: string }) {
  return (
    <p class={`spoken ${label.toLowerCase()}`}>
      <b>{label}</b> “{words}”
    </p>
  );
}

function WaitScreen({ turn, step, seconds }: Props & { readonly seconds: number }) {
  const since = turn.view.snapshot.context.stepSince;
  const waited_ms = since ? waitedAtLeast_ms(since, turn.now) : 0;
  const left_s = Math.max(0, Math.ceil(seconds - waited_ms / 1000));
  return (
    <>
      <StepFrame turn={turn} step={step}>
        <p class="seconds-left number">
          <b>{left_s > 0 ? left_s : Math.floor(waited_ms / 1000)}</b> {left_s > 0 ? "s to wait" : "s waited"}
        </p>
      </StepFrame>
      <div class="answer-row">
        <Button
          look="go"
          critical
          disabled={left_s > 0}
          onPress={(tap) => void turn.say(done(turn, step), tap)}
        >
          {left_s > 0 ? "Wait" : "Waited: done"}
        </Button>
      </div>
    </>
  );
}
