import { expect, test } from "vitest";
import { breathe } from "../../simulation/virtual-time.ts";
import { LOG, open, start, World } from "../../simulation/world.ts";

const signOn = { type: "signed-on", person: "C1", role: "conductor" } as const;
const hold = { type: "hold-called", why: "a dog" } as const;

test("a permission is accepted only when its entry is on the disk", async () => {
  const world = new World();
  const page = world.page();
  const run = await start(page);
  const outcome = run.send(signOn);
  expect(run.view().snapshot.context.crew.conductor).toBeUndefined();
  expect(await outcome).toEqual({ kind: "accepted" });
  expect(world.written().map(({ event }) => event.type)).toEqual(["opened", "signed-on"]);
  expect(run.view().snapshot.context.crew.conductor).toBe("C1");
  await breathe();
  expect(run.view().save).toBe("saved");
});

test("a hold shows in the same breath, while the store hangs", async () => {
  const world = new World();
  const page = world.page();
  const run = await start(page);
  page.store.strike("hang", 100);
  const call = run.send(signOn);
  await breathe();
  const held = run.send(hold);
  expect(run.view().snapshot.context.hold?.why).toBe("a dog");
  expect(run.view().pending).toEqual([hold]);
  await world.time.pass(20_000);
  expect(await call).toMatchObject({ kind: "not-saved" });
  expect(await held).toMatchObject({ kind: "not-saved" });
  expect(run.view().save).toBe("not-saved");
  page.store.heal();
  expect((await run.retry()).ok).toBe(true);
  expect(world.written().map(({ event }) => event.type)).toEqual(["opened", "hold-called"]);
  expect(run.view().pending).toEqual([]);
  expect(LOG).toBe("log1");
});

test("a restart while cold lands on hold", async () => {
  const world = new World();
  const page = world.page();
  const run = await start(page);
  await run.send(signOn);
  world.kill(page);
  const again = await open(world.page());
  expect(again.view().snapshot.context.hold?.kind).toBe("restart");
  expect(world.written().map(({ event }) => event.type)).toEqual(["opened", "signed-on", "restarted"]);
});
