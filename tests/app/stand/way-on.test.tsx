// @vitest-environment happy-dom
import { cleanup, screen } from "@testing-library/preact";
import { afterEach, describe, expect, it } from "vitest";
import { HERON } from "../../../app/demo/documents.ts";
import { LoggedWalk } from "../../core/review/logged-walk.ts";
import { CREW } from "../../model/walk.ts";
import { open, start, World } from "../../simulation/world.ts";
import { heading, press, show, told, type } from "./at-stand.tsx";

/** There is always a way on, and nothing that is offered is refused. */

afterEach(cleanup);

const button = (name: string | RegExp) => screen.queryByRole("button", { name });

/** A misfire with the supply shut: the bottle is full, and only the release empties it. */
const misfired = (): LoggedWalk =>
  new LoggedWalk().to("zeroed").say({ type: "nothing-happened" }).step() as LoggedWalk;

const pull = (walk: LoggedWalk): LoggedWalk =>
  walk.say({ type: "clear-called", seenBy: CREW.conductor }).say({ type: "discharge-called" }) as LoggedWalk;

describe("emptying by a pull", () => {
  it("takes a call back that nobody pulled on, naming the call", async () => {
    const walk = pull(misfired());
    const call = walk.entries.at(-1)!.seq;
    const { run } = await told(walk);
    show(run);
    expect(heading()).toBe("Pull now. What happened?");
    await press("Nobody pulled");
    expect(run.view().entries.at(-1)?.event).toMatchObject({ type: "corrected", entry: call });
    expect(heading()).toBe("The bottle may be full. Empty it by a pull.");
    expect(button("Swept: all clear")).not.toBeNull();
  });

  it("says no more of pulling once somebody held, and asks what was done", async () => {
    const { run } = await told(pull(misfired()));
    show(run);
    await press("Hold");
    expect(heading()).toBe("The bottle may be full. Empty it by a pull.");
    expect(screen.getByText(/no longer counts/)).toBeDefined();
    expect(button("Clear the hold…")).not.toBeNull();
  });

  it("offers the phone back where only the conductor may call the pull", async () => {
    const walk = new LoggedWalk().to("restraining") as LoggedWalk;
    walk.step();
    walk.firstLooks().step();
    walk.say({ type: "handed-over", to: CREW.verifier }).say({ type: "air-seen-on" }, CREW.verifier);
    walk.step();
    const { run } = await told(walk);
    const page = show(run);
    expect(page.querySelectorAll(".missing li"), "one thing at a time").toHaveLength(1);
    expect(screen.getByText("And then 2 more.")).toBeDefined();
    await press("Hand over…");
    await type(/type your own code/, CREW.conductor);
    // The synthetic crew's codes are small letters, which the field of a phone would never type.
    expect(screen.getByLabelText<HTMLInputElement>(/type your own code/).value).toBe(
      CREW.conductor.toUpperCase(),
    );
  });

  it("with no pull left says so alone, and leads to the responsible person", async () => {
    let walk = misfired();
    for (let pulls = 1; pulls < HERON.rig.limits.pulls; pulls += 1)
      walk = pull(walk).say({ type: "nothing-happened" }) as LoggedWalk;
    const { run } = await told(walk);
    const page = show(run);
    expect(heading()).toBe("The bottle may be full, and no pull is left.");
    expect([...page.querySelectorAll(".missing li")].map((li) => li.textContent)).toEqual([
      "No pull is left. Say: pressure unresolved. Keep the line.",
    ]);
    expect(button("Swept: all clear")).toBeNull();
    await press("Pressure unresolved…");
    expect(heading()).toBe("Pressure unresolved: why");
  });

  it("names those who may end an unresolved pressure, as the rig names them", async () => {
    const walk = misfired().say({ type: "unresolved-declared", why: "jammed" }) as LoggedWalk;
    const { run } = await told(walk);
    const page = show(run);
    expect(page.textContent).toContain(`responsible person (${HERON.rig.responsible.join(" or ")})`);
    expect(page.textContent).not.toContain(HERON.rig.owner);
  });
});

describe("nobody signed on", () => {
  it("asks for the crew first, with hold and make safe in their place", async () => {
    const run = await start(new World().page());
    show(run);
    await press("Hold");
    expect(heading()).toContain("Sign on");
    expect([button("On hold"), button("Make safe")]).not.toContain(null);
    await press("Make safe");
    expect(heading()).toBe("Who makes it safe?");
    for (const [role, code] of [
      ["Conductor", "kr1"],
      ["Installer", "jo2"],
      ["Verifier", "ma3"],
    ] as const)
      await type(new RegExp(`^${role}`), code);
    await press("Sign on");
    expect(run.view().snapshot.context.crew, "whatever the case they typed").toEqual({
      conductor: "KR1",
      installer: "JO2",
      verifier: "MA3",
    });
    expect(screen.getByText("See both supply valves shut from outside the sectors.")).toBeDefined();
  });
});

describe("a reading outside", () => {
  it("is named by its gauge, and can be read again from there", async () => {
    const walk = new LoggedWalk().to("charged").steps() as LoggedWalk;
    walk.gauge("supply", "20");
    const { run } = await told(walk);
    const page = show(run);
    const name = HERON.rig.gauges.find(({ id }) => id === "supply")!.name;
    expect(page.querySelector(".missing")?.textContent).toContain(`Outside the limits: ${name}.`);
    await press("Read it again…");
    expect(button(name)?.getAttribute("aria-pressed")).toBe("true");
    await type(/It reads/, "6");
    await press("Write it down");
    expect(button("Read it again…")).toBeNull();
  });
});

describe("a second page", () => {
  it("shows neither hold nor make safe, says where they are, and can take over", async () => {
    const { world, run } = await told(new LoggedWalk().to("sealing") as LoggedWalk);
    const second = await open(world.page());
    const before = run.view().entries.length;
    show(second);
    expect([button("Hold"), button("Make safe")]).toEqual([null, null]);
    expect(screen.getByText(/Hold and make safe are on the page that writes/)).toBeDefined();
    expect(run.view().entries).toHaveLength(before);
    await press("Take over");
    expect([button("Make safe")]).not.toContain(null);
  });
});

describe("correcting", () => {
  it("does not offer a sign-on, which only a new one puts right", async () => {
    const { run } = await told(new LoggedWalk().signOn() as LoggedWalk);
    const page = show(run);
    await press("Say what happened");
    await press("Say more…");
    await press("Correct a mistake…");
    expect(page.querySelectorAll(".list button")).toHaveLength(0);
    expect(screen.getByText(/put right by a new one/)).toBeDefined();
  });
});
