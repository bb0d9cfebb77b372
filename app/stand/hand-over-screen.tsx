import { useState } from "preact/hooks";
import { ROLE_NAME } from "../text.ts";
import { Button } from "../widgets/button.tsx";
import { CodeField } from "../widgets/reading-field.tsx";
import type { Screen } from "./screen.ts";
import type { Turn } from "./turn.ts";

type HandOver = Extract<Screen, { kind: "hand-over" }>;

/** Whoever takes the phone shows it by the own code: typed, never picked, never remembered (SAFETY A7). */
export function HandOverScreen({ turn, handOver }: { readonly turn: Turn; readonly handOver: HandOver }) {
  const [code, setCode] = useState("");
  const [wrong, setWrong] = useState(false);
  const { to, again } = handOver;
  const role = ROLE_NAME[to].toLowerCase();
  const take = (tap: Event) => {
    if (code === "") return;
    if (code !== turn.view.snapshot.context.crew[to]) {
      setWrong(true);
      void turn.say({ type: "refused", event: "handed-over", missing: ["wrong-code"] }, tap);
      return;
    }
    void turn.say({ type: "handed-over", to: code }, tap, code);
  };
  return (
    <>
      <h1 tabIndex={-1} class="act">
        {again ? `Still the ${role}?` : `Hand the phone to the ${role}.`}
      </h1>
      <p>{to === "verifier" ? VERIFIER : "The conductor goes on from here."}</p>
      <form class="reading" onSubmit={(event) => event.preventDefault()}>
        <CodeField
          label={`${ROLE_NAME[to]}: type your own code`}
          value={code}
          last
          onDone={take}
          onInput={(typed) => {
            setCode(typed);
            setWrong(false);
          }}
        />
        {wrong && (
          <p class="judged bad" role="alert">
            This is not the {role}'s code.
          </p>
        )}
      </form>
      <div class="answer-row">
        <Button look="go" critical disabled={code === ""} onPress={take}>
          I have the phone
        </Button>
      </div>
    </>
  );
}

const VERIFIER =
  "Everyone else steps back. The verifier walks alone, the other way round, and does not ask what was seen before.";
