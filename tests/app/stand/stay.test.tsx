// @vitest-environment happy-dom
import { cleanup, render } from "@testing-library/preact";
import { afterEach, expect, it } from "vitest";
import { useStay } from "../../../app/stand/stay.ts";

afterEach(cleanup);

let told = 0;
function Page() {
  useStay(() => {
    told += 1;
  });
  return null;
}

it("lays its entry anew when somebody goes back, and none when a link leads elsewhere", () => {
  location.hash = "#/stand/one";
  render(<Page />);
  const { length } = history;
  dispatchEvent(new Event("popstate"));
  expect([history.length, told]).toEqual([length + 1, 1]);
  location.hash = "#/codes/one";
  const gone = history.length;
  dispatchEvent(new Event("popstate"));
  expect([history.length, told], "the way back from there is one press").toEqual([gone, 1]);
});
