import type { RestraintAnswer } from "../../core/sequence/vocabulary.ts";
import { ANSWER } from "../text.ts";
import { Answers } from "../widgets/answers.tsx";
import { Button } from "../widgets/button.tsx";
import { kindOf, kindsOf } from "../widgets/log-words.ts";
import { StandPlan } from "../widgets/stand-plan.tsx";
import type { Screen } from "./screen.ts";
import { WarningBlock, Who } from "./step-frame.tsx";
import { ThrowNumber } from "./throw-number.tsx";
import type { Turn } from "./turn.ts";

type Look = Extract<Screen, { kind: "restraint" }>;
type Props = { readonly turn: Turn; readonly look: Look };

const ANSWERS = [
  { id: "part", text: ANSWER.part, good: false },
  { id: "open", text: ANSWER.open, good: false },
  { id: "unseen", text: ANSWER.unseen, good: false },
  { id: "home", text: ANSWER.home, good: true },
] as const;

const CAUGHT: Record<RestraintAnswer, string> = {
  part: "part closed",
  open: "open",
  unseen: "out of sight",
  home: "home",
};

/**
 * One restraint, one screen (SAFETY A3). In the second round nothing on it comes from the first: the
 * plan shows marks and places only, and the order is the other way round (A6).
 */
export function RestraintScreen({ turn, look }: Props) {
  const { rig, snapshot } = turn.view;
  const { restraint, round, number, caught } = look;
  if (round === 1 && number === 1 && !caught && turn.page === "") return <LeadIn turn={turn} look={look} />;
  const seenBy = snapshot.context.crew[round === 1 ? "installer" : "verifier"] ?? turn.now.by;
  const kind = kindOf(rig);
  return (
    <>
      {caught ? (
        <h1 tabIndex={-1} class="act caught-head">
          {restraint.mark} was {CAUGHT[caught]}. Press it home. Touch it again.
        </h1>
      ) : (
        <div class="restraint-head">
          <StandPlan rig={rig} atHand={restraint.id} />
          <h1 tabIndex={-1} class="act">
            <Who step={look.step} /> Touch {kind} {restraint.mark}. Say what you see.
          </h1>
        </div>
      )}
      <Answers
        answers={ANSWERS}
        picture={<StandPlan rig={rig} atHand={restraint.id} />}
        onAnswer={(answer, tap) =>
          void turn.say({ type: "restraint-answered", restraint: restraint.id, round, answer, seenBy }, tap)
        }
      />
    </>
  );
}

/** Before the first one: what the looks are for, with the rig's own number. */
function LeadIn({ turn, look }: Props) {
  const { rig } = turn.view;
  const kind = kindOf(rig);
  return (
    <>
      {look.step.warning && <WarningBlock warning={look.step.warning} />}
      <h1 tabIndex={-1} class="act">
        {rig.restraints.length} {kindsOf(rig)}, one by one. Installer: touch it, then say it.
      </h1>
      <ThrowNumber estimate={turn.estimate} />
      <div class="answer-row">
        <Button look="go" critical onPress={() => turn.turnTo("look")}>
          Go to {kind} {look.restraint.mark}
        </Button>
      </div>
    </>
  );
}

export const partOfLooks = ({ round, number, caught }: Look, count: number): string =>
  caught ? "Caught" : `${round === 1 ? "First" : "Second"} look ${number}/${count}`;
