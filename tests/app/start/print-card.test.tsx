// @vitest-environment happy-dom
import { cleanup, render } from "@testing-library/preact";
import { afterEach, describe, expect, it } from "vitest";
import { HERON, KINGFISHER, SHIPPED } from "../../../app/demo/documents.ts";
import { PrintCard } from "../../../app/start/print-card.tsx";
import { PHASES, stepsOf } from "../../../core/procedure/procedure.ts";

afterEach(cleanup);

const cardOf = (documents: typeof HERON): HTMLElement =>
  render(<PrintCard documents={documents} home="#/" />).container as HTMLElement;

describe.each(SHIPPED.map((documents) => [documents.rig.id, documents] as const))(
  "the paper card of %s",
  (_, documents) => {
    it("carries every step of every stage, in order", () => {
      const steps = [...cardOf(documents).querySelectorAll(".card-step")].map(
        (step) => step.textContent ?? "",
      );
      const wanted = PHASES.flatMap((phase) => stepsOf(documents.procedure, phase).map(({ text }) => text));
      expect(steps).toHaveLength(wanted.length);
      wanted.forEach((text, i) => {
        expect(steps[i]).toContain(text);
      });
    });

    it("asks for each restraint twice, the second time the other way round, by the state seen", () => {
      const marks = [...cardOf(documents).querySelectorAll(".card-restraint")].map((one) => [
        one.querySelector("b")?.textContent,
        one.querySelectorAll(".card-box").length,
      ]);
      const order = documents.rig.restraints.map(({ mark }) => mark);
      expect(marks).toEqual([...order, ...order.toReversed()].map((mark) => [mark, 4]));
    });

    it("warns before the step, leaves room for the run's code, and says who approved it", () => {
      const card = cardOf(documents);
      expect(card.querySelectorAll(".card-warning").length).toBeGreaterThan(0);
      for (const warning of card.querySelectorAll(".card-warning"))
        expect(warning.nextElementSibling?.className).toBe("card-step");
      expect(card.textContent).not.toContain("{run}");
      expect(card.querySelector(".card-head")?.textContent).toMatch(/approved by|NOT APPROVED/);
    });
  },
);

const backOf = (documents: typeof HERON): string =>
  cardOf(documents).querySelector(".safing-card")?.textContent ?? "";

it("on its back makes a release rig safe by its own pulls and waits, and trusts no gauge", () => {
  const back = backOf(HERON);
  expect(back).toContain(`at most ${HERON.rig.limits.pulls} pulls`);
  expect(back).toContain(`Wait ${HERON.rig.limits.waitAfterDoubt_s} s`);
  expect(back).toContain("A gauge at zero shows nothing here.");
});

it("on its back empties a rig with a vent by its two gauges, without a pull", () => {
  const back = backOf(KINGFISHER);
  expect(back).toContain("Open the vent from outside the line. Read Bottle gauge at zero.");
  expect(back).not.toMatch(/pull the release/i);
});

it("says what to do when nothing shows that it is empty: no approach, and whom to call", () => {
  expect(backOf(HERON)).toContain("No approach. Keep the line. Call the responsible person");
});
