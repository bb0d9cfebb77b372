import { Button } from "../widgets/button.tsx";
import { withRun } from "../widgets/log-words.ts";
import type { Screen } from "./screen.ts";
import type { Turn } from "./turn.ts";

type Return = Extract<Screen, { kind: "return" }>;
type Props = { readonly turn: Turn; readonly card: Return; readonly onRead: () => void };

/** The cue for coming back (SAFETY A17): reread the step before, then redo the one that was broken off. */
export function ReturnScreen({ turn, card, onRead }: Props) {
  const { code } = turn.view;
  return (
    <>
      {card.reread && (
        <>
          <h2>Read again</h2>
          <p class="act quoted">{withRun(card.reread.text, code)}</p>
        </>
      )}
      <h1 tabIndex={-1}>{card.reread ? "Then do anew" : "Do anew"}</h1>
      <p class="act quoted">{withRun(card.redo.text, code)}</p>
      <div class="answer-row">
        <Button look="go" critical onPress={onRead}>
          Read. Go there
        </Button>
      </div>
    </>
  );
}
