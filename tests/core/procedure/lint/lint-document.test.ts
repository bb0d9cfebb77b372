import { describe, expect, it } from "vitest";
import { HERON } from "../../../../app/demo/documents.ts";
import procedureHeron from "../../../../app/demo/procedure-heron.json";
import { lintDocument } from "../../../../core/procedure/lint/lint-document.ts";
import { twentyFaults } from "./twenty-faults.ts";

// biome-ignore lint/suspicious/noExplicitAny: the point is to break the document in every way
type Json = any;

const lint = (change: (procedure: Json) => void) => {
  const copy = structuredClone(procedureHeron) as Json;
  change(copy);
  const { errors, warnings } = lintDocument(copy, HERON.rig);
  return [...errors, ...warnings].map(({ code, where }) => `${code} at ${where}`);
};

describe("lintDocument", () => {
  it("lists all twenty faults of a file with twenty faults, and no other", () => {
    const { json, faults } = twentyFaults();
    const { errors, warnings } = lintDocument(json, HERON.rig);
    expect(faults).toHaveLength(20);
    expect([...errors, ...warnings].map(({ code, where }) => `${code} at ${where}`).sort()).toEqual(
      [...faults].sort(),
    );
  });

  it("reads on past an unknown field and a newer version", () => {
    expect(
      lint((p) => {
        p.version = 2;
        p.colour = "red";
        p.phases.sealing[3].text = "Soap it properly.";
      }),
    ).toEqual(["key-unknown at colour", "version-newer at version", "one-act at phases.sealing[3].text"]);
  });

  it("does not complain twice of a field that cannot be read", () => {
    expect(lint((p) => (p.phases.sealing[3].text = 7))).toEqual(["wrong-type at phases.sealing[3].text"]);
    expect(lint((p) => (p.phases.charged[0].form = "look"))).toHaveLength(1);
    expect(lint((p) => delete p.phases.charged[0].role)).toEqual(["key-missing at phases.charged[0].role"]);
    expect(lint((p) => (p.author = ""))).toEqual(["out-of-range at author"]);
    expect(lint((p) => (p.forRig = 1))).toEqual(["wrong-type at forRig"]);
  });

  it("does not guess what an unreadable step would have proved", () => {
    expect(lint((p) => (p.phases.filling[0].proves = ["water"]))).toEqual([
      "value-unknown at phases.filling[0].proves[0]",
    ]);
    expect(lint((p) => (p.phases.filling[0] = "pour"))).toEqual(["wrong-type at phases.filling[0]"]);
    expect(lint((p) => (p.phases.filling = {}))).toEqual(["wrong-type at phases.filling"]);
    expect(lint((p) => delete p.phases.armed)).toEqual(["key-missing at phases.armed"]);
  });

  it("still finds what is missing beside an unreadable field that has no say in it", () => {
    const found = lint((p) => {
      p.phases.filling.splice(0, 1);
      p.phases.filling[0].takes_s = "long";
    });
    expect(found).toEqual(["wrong-type at phases.filling[0].takes_s", "facts-proved at phases.filling"]);
  });

  it.each([null, [], 7, "procedure", {}, { phases: [] }, { phases: 3 }])(
    "survives what is no procedure: %j",
    (json) => {
      expect(lintDocument(json).errors.length).toBeGreaterThan(0);
    },
  );
});
