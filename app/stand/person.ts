import { ROLES } from "../../core/sequence/roles.ts";
import type { RunView } from "../session/live-run.ts";
import { ROLE_NAME } from "../text.ts";

/** People are shown by what they do here: a code on the screen would no longer prove anybody (SAFETY A7). */
export const personWords = ({ snapshot }: Pick<RunView, "snapshot">, person: string): string => {
  const role = ROLES.find((candidate) => snapshot.context.crew[candidate] === person);
  return role ? ROLE_NAME[role] : person;
};
