import { act, fireEvent, render, screen } from "@testing-library/preact";
import { expect } from "vitest";
import type { LiveRun } from "../../../app/session/live-run.ts";
import { Stand } from "../../../app/stand/stand.tsx";
import type { LoggedWalk } from "../../core/review/logged-walk.ts";
import { breathe } from "../../simulation/virtual-time.ts";
import { type Page, start, World } from "../../simulation/world.ts";

/** A crew at the page itself: what a walk said, said again to a real session and shown by the real face. */
export type AtStand = { readonly world: World; readonly page: Page; readonly run: LiveRun };

/** A device, its page and a run told so far, at the pace at which the walk told it. */
export const told = async ({ entries }: LoggedWalk): Promise<AtStand> => {
  const world = new World();
  const page = world.page();
  const run = await start(page);
  let at_ms = entries[0]?.at ?? 0;
  for (const { event, by, at } of entries) {
    if (event.type === "opened" || event.type === "kept") continue;
    await world.time.pass(at - at_ms);
    at_ms = at;
    expect(await run.send(event, { by }), event.type).toEqual({ kind: "accepted" });
  }
  return { world, page, run };
};

export const show = (run: LiveRun): Element =>
  render(
    <Stand
      run={run}
      lastCrew={undefined}
      estimate={undefined}
      carry={async () => "carried"}
      onLeave={() => {}}
      preferences={{ read: () => undefined, write: () => {} }}
    />,
  ).container;

export const heading = (): string => screen.getByRole("heading", { level: 1 }).textContent ?? "";

/** As a finger that has read the screen: past the 600 ms after its change, and past the last tap. */
export const press = async (name: string | RegExp): Promise<void> => {
  await act(() => new Promise((done) => setTimeout(done, 650)));
  fireEvent.click(screen.getByRole("button", { name }));
  await act(breathe);
};

/** Each field in turn, as on the phone's own keyboard. */
export const type = async (label: string | RegExp, words: string): Promise<void> => {
  const field = screen.getByLabelText(label);
  await act(() => void fireEvent.input(field, { target: { value: words } }));
};
