import type { Missing } from "../../core/sequence/missing.ts";
import { Answers } from "../widgets/answers.tsx";
import { Button } from "../widgets/button.tsx";
import { CallButton, isConfirming } from "./gate-screen.tsx";
import { HandOverScreen } from "./hand-over-screen.tsx";
import { MissingList } from "./missing-list.tsx";
import type { Screen } from "./screen.ts";
import { LookScreen } from "./step-screen.tsx";
import type { Turn } from "./turn.ts";

type Props = { readonly turn: Turn };

type Empty = Extract<Screen, { kind: "empty" }>;
type EmptyProps = Props & { readonly empty: Empty };

/** A rig that only its release empties: with people clear, it is pulled again from outside the line. */
export function EmptyScreen({ turn, empty }: EmptyProps) {
  const { view, turnTo } = turn;
  const { look, missing, broken } = empty;
  if (turn.page === "look" || turn.page === "answer") return <LookScreen turn={turn} step={look} />;
  if (turn.page === "hand-over")
    return <HandOverScreen turn={turn} handOver={{ kind: "hand-over", to: "conductor", again: false }} />;
  const { pulls } = view.rig.limits;
  const none = missing.filter(({ code }) => code === "pulls-left");
  if (none.length > 0) return <NoPullLeft turn={turn} missing={none} />;
  const next = nextOf(missing);
  return (
    <>
      <h1 tabIndex={-1} class="act">
        The bottle may be full. Empty it by a pull.
      </h1>
      {broken && <p>The last call to pull no longer counts. If somebody did pull, say what happened.</p>}
      <p class="near-by number">
        <b>Pulls</b>{" "}
        <span>
          {pulls - view.snapshot.context.pulls} of {pulls} left, data flagged
        </span>
      </p>
      {next && <MissingList view={view} missing={[next]} />}
      {missing.length > 1 && <p>And then {missing.length - 1} more.</p>}
      {!isConfirming(turn) && (
        <div class="answer-row">
          <Button onPress={() => turnTo("look")}>Look at it first…</Button>
          <NextToPull turn={turn} next={next?.code} />
        </div>
      )}
      {missing.length === 0 && <CallButton turn={turn} call="discharge-called" />}
    </>
  );
}

/** One at a time, so that each is read: the hold first, since it stands before all else, the sweep last. */
const ORDER: readonly string[] = ["no-hold", "conductor-calls", "proof-at-air"];

const nextOf = (missing: readonly Missing[]): Missing | undefined =>
  missing.toSorted((a, b) => rank(a) - rank(b))[0];

const rank = ({ code }: Missing): number => (ORDER.includes(code) ? ORDER.indexOf(code) : ORDER.length);

/** What can be done here about what a pull waits for. */
function NextToPull({ turn, next }: Props & { readonly next: string | undefined }) {
  const { say, show, now, turnTo } = turn;
  switch (next) {
    case "no-hold":
      return (
        <Button critical onPress={() => show({ kind: "clear-hold" })}>
          Clear the hold…
        </Button>
      );
    case "conductor-calls":
      return (
        <Button critical onPress={() => turnTo("hand-over")}>
          Hand over…
        </Button>
      );
    case "proof-at-air":
      return (
        <Button critical onPress={() => show({ kind: "report", form: "agreed" })}>
          Responsible person…
        </Button>
      );
    case "clear":
      return (
        <Button look="go" critical onPress={(tap) => void say({ type: "clear-called", seenBy: now.by }, tap)}>
          Swept: all clear
        </Button>
      );
    default:
      return null;
  }
}

/** The last pull was in vain: a look may still show it empty, else only the responsible person ends it. */
function NoPullLeft({ turn, missing }: Props & { readonly missing: readonly Missing[] }) {
  return (
    <>
      <h1 tabIndex={-1} class="act">
        The bottle may be full, and no pull is left.
      </h1>
      <MissingList view={turn.view} missing={missing} />
      <p>It may leak down: wait, and look from the line. Else only the responsible person ends this.</p>
      <div class="answer-row">
        <Button onPress={() => turn.turnTo("look")}>Look at it first…</Button>
        <Button critical onPress={() => turn.show({ kind: "report", form: "unresolved" })}>
          Pressure unresolved…
        </Button>
      </div>
    </>
  );
}

const OUTCOMES = [
  { id: "nothing-happened", text: "Nothing happened", good: false },
  { id: "nobody-pulled", text: "Nobody pulled", good: false },
  { id: "released", text: "It went", good: true },
] as const;

/** A call that nobody followed is taken back by the log's own word for that, and names the call. */
export function PulledScreen({ turn: { view, say } }: Props) {
  const call = view.entries.findLast(({ event }) => event.type === "discharge-called");
  const tell = (outcome: (typeof OUTCOMES)[number]["id"], tap: Event) => {
    if (outcome !== "nobody-pulled") void say({ type: outcome }, tap);
    else if (call) void say({ type: "corrected", entry: call.seq, why: "Nobody pulled" }, tap);
  };
  return (
    <>
      <h1 tabIndex={-1} class="act">
        Pull now. What happened?
      </h1>
      <p>Keep the line, whatever happened.</p>
      <Answers answers={OUTCOMES} onAnswer={tell} />
    </>
  );
}
