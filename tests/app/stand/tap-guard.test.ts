import { expect, it } from "vitest";
import { createTapGuard } from "../../../app/stand/tap-guard.ts";

const critical = (at_ms: number) => ({ at_ms, critical: true, safe: false });
const other = (at_ms: number) => ({ at_ms, critical: false, safe: false });
const safe = (at_ms: number) => ({ at_ms, critical: true, safe: true });

it("drops a tap on a critical control within 600 ms of a change of the screen", () => {
  const guard = createTapGuard();
  guard.screenChanged(1000);
  expect(guard.judge(critical(1599))).toBe("drop-too-soon");
  expect(guard.judge(critical(1600))).toBe("pass");
});

it("lets what decides nothing be tapped at once", () => {
  const guard = createTapGuard();
  guard.screenChanged(1000);
  expect(guard.judge(other(1010))).toBe("pass");
});

it("never keeps hold and make safe waiting", () => {
  const guard = createTapGuard();
  guard.screenChanged(1000);
  expect([guard.judge(safe(1001)), guard.judge(safe(1002))]).toEqual(["pass", "pass"]);
});

it("ignores a second activation under 300 ms, and a dropped tap starts no such time", () => {
  const guard = createTapGuard();
  guard.screenChanged(0);
  expect(guard.judge(critical(500))).toBe("drop-too-soon");
  expect(guard.judge(critical(700))).toBe("pass");
  expect(guard.judge(critical(999))).toBe("ignore-repeat");
  expect(guard.judge(critical(1000))).toBe("pass");
});
