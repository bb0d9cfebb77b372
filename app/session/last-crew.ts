import { ROLES, type Role } from "../../core/sequence/roles.ts";
import type { RunStore } from "../ports.ts";

type Crew = { readonly [R in Role]: string };

/** The crew of the newest earlier run of this stand, of the same day: codes are personal to the day. */
export const lastCrew = async (
  store: Pick<RunStore, "list" | "read">,
  log: string,
  rig: string,
): Promise<Crew | undefined> => {
  const runs = await store.list();
  if (!runs.ok) return undefined;
  const isToday = (at: number) => new Date(at).toDateString() === new Date().toDateString();
  const [newest] = runs.value
    .filter((run) => run.log !== log && isToday(run.openedAt))
    .toSorted((a, b) => b.openedAt - a.openedAt);
  const stored = newest && (await store.read(newest.log));
  if (!stored?.ok || stored.value.documents.rig.id !== rig) return undefined;
  const crew: { [R in Role]?: string } = {};
  for (const { event } of stored.value.entries)
    if (event.type === "signed-on") crew[event.role] = event.person;
  return ROLES.every((role) => crew[role] !== undefined) ? (crew as Crew) : undefined;
};
