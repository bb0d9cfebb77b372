import { useState } from "preact/hooks";
import { MUST_DIFFER, ROLES, type Role } from "../../core/sequence/roles.ts";
import { ROLE_DUTY, ROLE_NAME } from "../text.ts";
import { Button } from "../widgets/button.tsx";
import { CodeField } from "../widgets/reading-field.tsx";
import type { Turn } from "./turn.ts";

export type Crew = { readonly [R in Role]: string };

/** Each takes a role by a short code of the own choosing, for today; who must differ is said while it is typed. */
export function SignOnScreen({
  turn,
  lastCrew,
}: {
  readonly turn: Turn;
  readonly lastCrew: Crew | undefined;
}) {
  const { crew } = turn.view.snapshot.context;
  const [codes, setCodes] = useState<Crew>(() => emptyCrew(crew));
  const clash = MUST_DIFFER.find(([a, b]) => codes[a] !== "" && codes[a] === codes[b]);
  const ready = clash === undefined && ROLES.every((role) => codes[role] !== "");
  const signOn = async (tap: Event, people: Crew) => {
    for (const role of ROLES) {
      if (crew[role] === people[role]) continue;
      const said = await turn.say({ type: "signed-on", person: people[role], role }, tap, people.conductor);
      if (said.kind !== "accepted") return;
    }
  };
  return (
    <>
      <h1 tabIndex={-1} class="unseen">
        Sign on: a short code each, for today
      </h1>
      <form class="sign-on" onSubmit={(event) => event.preventDefault()}>
        {ROLES.map((role, at) => (
          <CodeField
            key={role}
            label={
              <>
                {ROLE_NAME[role]} <small>{ROLE_DUTY[role]}</small>
              </>
            }
            value={codes[role]}
            last={at === ROLES.length - 1}
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
