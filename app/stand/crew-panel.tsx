import { useState } from "preact/hooks";
import { ROLES, type Role } from "../../core/sequence/roles.ts";
import { ROLE_DUTY, ROLE_NAME } from "../text.ts";
import { Button } from "../widgets/button.tsx";
import { CodeField } from "../widgets/reading-field.tsx";
import { FormRow } from "./form-parts.tsx";
import type { Turn } from "./turn.ts";

/** Somebody leaves, somebody comes, or the phone goes to another hand. What a person has been stays with them. */
export function CrewPanel({ turn }: { readonly turn: Turn }) {
  const role = ["phone", ...ROLES].find((one) => one === turn.page) as Role | "phone" | undefined;
  const [code, setCode] = useState("");
  if (role === undefined)
    return (
      <>
        <h1 tabIndex={-1} class="act">
          Crew and phone
        </h1>
        <div class="choices">
          <Button onPress={() => turn.turnTo("phone")}>Hand the phone over…</Button>
          {ROLES.map((one) => (
            <Button key={one} onPress={() => turn.turnTo(one)}>
              New {ROLE_NAME[one].toLowerCase()}…
            </Button>
          ))}
        </div>
      </>
    );
  const event =
    code === ""
      ? undefined
      : role === "phone"
        ? ({ type: "handed-over", to: code } as const)
        : ({ type: "signed-on", person: code, role } as const);
  return (
    <>
      <h1 tabIndex={-1} class="act">
        {role === "phone" ? "Who takes the phone?" : `Who is ${ROLE_NAME[role].toLowerCase()} now?`}
      </h1>
      {role !== "phone" && <p>{ROLE_DUTY[role]}</p>}
      <form class="reading" onSubmit={(submit) => submit.preventDefault()}>
        <CodeField label="Your own code" value={code} last onInput={setCode} />
      </form>
      <FormRow turn={turn} event={event} act={role === "phone" ? "I have the phone" : "Sign on"} />
    </>
  );
}
