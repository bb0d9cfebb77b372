// @vitest-environment happy-dom
import { cleanup, render } from "@testing-library/preact";
import { afterEach, describe, expect, it } from "vitest";
import { HERON, KINGFISHER, SHIPPED } from "../../../app/demo/documents.ts";
import { PrintCard } from "../../../app/start/print-card.tsx";
import { PHASES, stepsOf } from "../../../core/procedure/procedure.ts";

afterEach(cleanup);

const cardOf = (documents: typeof HERON): HTMLElement =>
  render(<PrintCard documents={documents} home="#/" />).container as HTMLElement;

const answerTo = (documents: typeof HERON, id: string): string => {
  const { procedure } = documents;
  const at = PHASES.flatMap((phase) => stepsOf(procedure, phase)).findIndex((step) => step.id === id);
  return (
    cardOf(documents).querySelectorAll(".card-step")[at]?.querySelector(".card-answer")?.textContent ?? ""
  );
};

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

    it("writes down water either way, with its tare or its temperature, and says what is wanted", () => {
      const text = answerTo(documents, "water");
      expect(text).toMatch(/with the water − _+ tare = _+ g/);
      expect(text).toMatch(/_+ mL in (a )?graduated vessel, water at _+ °C/);
      const { water_kg, tolerance_kg } = documents.rig.fill;
      const [least, most] = [water_kg - tolerance_kg, water_kg + tolerance_kg].map((kg) =>
        Math.round(kg * 1000),
      );
      expect(text).toContain(`Wanted: ${least} to ${most} g`);
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

it("has the owner's band beside every gauge that is read, in the gauge's own unit and name", () => {
  expect(answerTo(HERON, "supply-read")).toBe("________ bar on Tank gauge. Wanted: 4 to 8 bar");
  expect(answerTo(HERON, "regulator")).toBe("________ bar on Regulator gauge. Wanted: 2.9 to 3.1 bar");
  expect(answerTo(HERON, "pressure-read")).toContain("Wanted: 2.9 to 3.1 bar");
  expect(answerTo(KINGFISHER, "supply-read")).toBe("________ kPa on Wall gauge. Wanted: 400 to 700 kPa");
  expect(answerTo(KINGFISHER, "regulator")).toBe("________ kPa on Line gauge. Wanted: 240 to 260 kPa");
  expect(answerTo(KINGFISHER, "bottle-read")).toContain("on Bottle gauge. Wanted: 240 to 260 kPa");
});

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

it("says every deviation that somebody accepted, and until when", () => {
  expect(cardOf(HERON).textContent).not.toContain("Accepted deviations");
  const accepted = {
    rule: "L25",
    where: "phases.filling",
    why: "One step more.",
    acceptedBy: "R1",
    until: "2026-12-31",
  };
  const card = cardOf({ ...HERON, procedure: { ...HERON.procedure, deviations: [accepted] } });
  expect(card.textContent).toContain("L25, phases.filling: One step more. Accepted by R1 until 2026-12-31.");
});

it("says on its face that the stand is out of service, and why", () => {
  expect(cardOf(HERON).textContent).not.toContain("OUT OF SERVICE");
  const tagged = { ...HERON, rig: { ...HERON.rig, service: { in: false as const, tag: "slide bent" } } };
  expect(cardOf(tagged).textContent).toContain("OUT OF SERVICE: slide bent.");
});
