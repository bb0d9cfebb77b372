import { useState } from "preact/hooks";
import { MUST_DIFFER, ROLES, type Role } from "../../core/sequence/roles.ts";
import { ROLE_DUTY, ROLE_NAME } from "../text.ts";
import { Button } from "../widgets/button.tsx";
import { CodeField } from "../widgets/reading-field.tsx";
import type { Turn } from "./turn.ts";

export type Crew = { readonly [R in Role]: string };

type Props = {
  readonly turn: Turn;
  /** All five before anything is done; with a run that is made safe early, only whom that needs. */
  readonly roles: readonly Role[];
  readonly lastCrew: Crew | undefined;
};

/** Each takes a role by a short code of the own choosing, for today; who must differ is said while it is typed. */
export function SignOnScreen({ turn, roles, lastCrew }: Props) {
  const { crew } = turn.view.snapshot.context;
  const [codes, setCodes] = useState<Crew>(() => emptyCrew(crew));
  const clash = MUST_DIFFER.find(([a, b]) => codes[a] !== "" && codes[a] === codes[b]);
  const ready = clash === undefined && roles.every((role) => codes[role] !== "");
  const signOn = async (tap: Event, people: Crew) => {
    for (const role of roles) {
      if (crew[role] === people[role]) continue;
      const said = await turn.say({ type: "signed-on", person: people[role], role }, tap, people.conductor);
      if (said.kind !== "accepted") return;
    }
  };
  const whole = roles.length === ROLES.length;
  return (
    <>
      <h1 tabIndex={-1} class={whole ? "unseen" : "act"}>
        {whole ? "Sign on: a short code each, for today" : "Who makes it safe?"}
      </h1>
      <form class="sign-on" onSubmit={(event) => event.preventDefault()}>
        {roles.map((role, at) => (
          <CodeField
            key={role}
            label={
              <>
                {ROLE_NAME[role]} <small>{ROLE_DUTY[role]}</small>
              </>
            }
            value={codes[role]}
            last={at === roles.length - 1}
            onDone={(key) => ready && void signOn(key, codes)}
            onInput={(code) => setCodes({ ...codes, [role]: code })}
          />
        ))}
      </form>
      {clash && (
        <p class="judged bad" role="alert">
          {ROLE_NAME[clash[0]]} and {clash[1]} must be two people.
        </p>
      )}
      <div class="answer-row">
        {lastCrew && <Button onPress={(tap) => void signOn(tap, lastCrew)}>Same crew again</Button>}
        <Button look="go" critical disabled={!ready} onPress={(tap) => void signOn(tap, codes)}>
          Sign on
        </Button>
      </div>
    </>
  );
}

const emptyCrew = (crew: { readonly [R in Role]?: string }): Crew => ({
  conductor: crew.conductor ?? "",
  installer: crew.installer ?? "",
  verifier: crew.verifier ?? "",
  releaser: crew.releaser ?? "",
  caller: crew.caller ?? "",
});
