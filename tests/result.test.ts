import { expect, test } from "vitest";
import { failed, issue, ok } from "../core/result.ts";

test("a failed result keeps every issue, in order", () => {
  const result = failed(issue("a", "1", "x", "y"), issue("b", "2", "x", "y"));
  expect(result.issues.map((i) => i.code)).toEqual(["a", "b"]);
  expect(ok(3)).toEqual({ ok: true, value: 3 });
});
