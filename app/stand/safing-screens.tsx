import { useState } from "preact/hooks";
import { ROLE_NAME } from "../text.ts";
import { Button } from "../widgets/button.tsx";
import { CodeField } from "../widgets/reading-field.tsx";
import { HeldCall, isConfirming } from "./gate-screen.tsx";
import { GOERS } from "./screen.ts";
import type { Turn } from "./turn.ts";

type Props = { readonly turn: Turn };

/** The long wait belongs to misfire and doubt; after a release that was seen the rig's own short one applies. */
export function WaitingScreen({ turn, left_s }: Props & { readonly left_s: number }) {
  const { view, say, page, turnTo } = turn;
  const [goes = ""] = page.split(" ");
  const { context } = view.snapshot;
  if (left_s > 0)
    return (
      <>
        <h1 tabIndex={-1} class="act">
          Keep the line until the wait is over.
        </h1>
        <p class="seconds-left number" role="timer">
          <b>{left_s}</b> s
        </p>
        <p>{context.doubt ? "The long wait: a misfire or a doubt." : "The bottle was seen to empty."}</p>
      </>
    );
  return (
    <>
      <h1 tabIndex={-1} class="act">
        Shown empty, wait over. One person goes, glasses on.
      </h1>
      <p>From the side: neither opening nor slide. Everyone else keeps the line.</p>
      {goes === "" ? (
        <div class="people">
          {GOERS.map((role) => [role, context.crew[role]] as const).map(
            ([role, person]) =>
              person !== undefined && (
                <Button key={role} critical onPress={() => turnTo(person)}>
                  {ROLE_NAME[role]}
                </Button>
              ),
          )}
        </div>
      ) : (
        <HeldCall
          turn={turn}
          act="One approaches"
          onConfirm={(input) => void say({ type: "approach-called", person: goes }, input)}
        />
      )}
    </>
  );
}

/** No way on but making safe: after a restart nobody's memory counts (SAFETY A47). */
export function UnknownScreen() {
  return (
    <>
      <h1 tabIndex={-1} class="act">
        The app was away. Nobody knows what the bottle holds.
      </h1>
      <p>Stay behind the line. Take no step from memory. There is one way on:</p>
      <svg class="down-right" viewBox="0 0 120 60" aria-hidden="true">
        <path d="M44 0H76V28H100L60 60L20 28H44Z" />
      </svg>
    </>
  );
}

/** One human exit: the responsible person's own word, on evidence, in words. It survives restarts. */
export function UnresolvedScreen({ turn }: Props) {
  const { view } = turn;
  if (turn.page !== "") return <EndUnresolved turn={turn} />;
  return (
    <>
      <div class="hatch" />
      <h1 tabIndex={-1} class="act">
        Pressure unresolved. Nobody goes near.
      </h1>
      <p>
        Keep the line. Keep this phone on. Call the responsible person ({view.rig.responsible.join(" or ")}).
        Only they can end this, with what they saw and what was done.
      </p>
      <div class="hatch" />
      <div class="answer-row">
        <Button critical onPress={() => turn.turnTo("end")}>
          Responsible person…
        </Button>
      </div>
    </>
  );
}

function EndUnresolved({ turn }: Props) {
  const [words, setWords] = useState({ person: "", evidence: "", done: "" });
  const put = (key: keyof typeof words) => (text: string) => setWords({ ...words, [key]: text });
  const ready = Object.values(words).every((text) => text.trim() !== "");
  return (
    <>
      <h1 tabIndex={-1} class="act">
        The responsible person
      </h1>
      {isConfirming(turn) ? (
        <dl class="facts">
          <div>
            <dt>Seen</dt>
            <dd>{words.evidence}</dd>
          </div>
          <div>
            <dt>Done</dt>
            <dd>{words.done}</dd>
          </div>
        </dl>
      ) : (
        <form class="reading" onSubmit={(event) => event.preventDefault()}>
          <CodeField label="Your own code" value={words.person} last={false} onInput={put("person")} />
          <label class="field">
            What shows that it is empty
            <input
              value={words.evidence}
              maxLength={200}
              onInput={(event) => put("evidence")(event.currentTarget.value)}
            />
          </label>
          <label class="field">
            What was done
            <input
              value={words.done}
              maxLength={200}
              onInput={(event) => put("done")(event.currentTarget.value)}
            />
          </label>
        </form>
      )}
      {ready ? (
        <HeldCall
          turn={turn}
          act="It is empty"
          onConfirm={(input) => void turn.say({ type: "unresolved-ended", ...words }, input)}
        />
      ) : (
        <div class="answer-row">
          <Button onPress={() => turn.turnTo("")}>Back</Button>
        </div>
      )}
    </>
  );
}
