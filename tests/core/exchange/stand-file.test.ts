import { describe, expect, test } from "vitest";
import { WRITTEN_HERON, WRITTEN_KINGFISHER } from "../../../app/demo/written.ts";
import { parseStand } from "../../../core/exchange/parse-stand.ts";
import { readStand } from "../../../core/exchange/read-stand.ts";
import { standChanges } from "../../../core/exchange/stand-changes.ts";
import { standName, standText } from "../../../core/exchange/stand-text.ts";
import type { Result } from "../../../core/result.ts";
import { editJson } from "../../edit-json.ts";

const TODAY = "2026-06-01";
const heron = { name: "heron.json", text: standText(WRITTEN_HERON) };
const rigFile = { name: "rig.json", text: JSON.stringify(WRITTEN_HERON.rig) };
const procedureFile = { name: "procedure.json", text: JSON.stringify(WRITTEN_HERON.written) };
const found = (result: Result<unknown>): readonly string[] =>
  result.ok ? [] : result.issues.map(({ code, where }) => `${code} ${where}`);

describe("a stand's file", () => {
  test("gives back what it was made of, and goes by its rig's id", () => {
    expect(standName("heron")).toBe("stand-heron.json");
    for (const documents of [WRITTEN_HERON, WRITTEN_KINGFISHER]) {
      const text = standText(documents);
      expect(parseStand({ name: "x", text })).toEqual({ ok: true, value: documents });
      const read = readStand([{ name: "x", text }], [], TODAY);
      expect(read.ok && read.value.documents).toEqual(documents);
      expect(read.ok && read.value.waits).toEqual([]);
    }
  });

  test("may be two files, in any order", () => {
    for (const files of [
      [rigFile, procedureFile],
      [procedureFile, rigFile],
    ]) {
      const read = readStand(files, [], TODAY);
      expect(read.ok && read.value.documents).toEqual(WRITTEN_HERON);
    }
  });

  test("may be one half where the device has the other", () => {
    const text = editJson(procedureFile.text, { revision: 9 });
    const revised = readStand([{ name: "p.json", text }], [WRITTEN_HERON], TODAY);
    expect(revised.ok && revised.value.documents.rig).toEqual(WRITTEN_HERON.rig);
    expect(revised.ok && revised.value.documents.written.revision).toBe(9);
    const lower = editJson(rigFile.text, { "bottle.limit_Pa": 400_000 });
    const rerated = readStand([{ name: "r.json", text: lower }], [WRITTEN_HERON], TODAY);
    expect(rerated.ok && rerated.value.documents.rig.bottle.limit_Pa).toBe(400_000);
    expect(rerated.ok && rerated.value.documents.written).toEqual(WRITTEN_HERON.written);
  });

  test("of which half is missing is refused, with the half that is there", () => {
    expect(found(readStand([rigFile], [], TODAY))).toEqual(["stand-incomplete the files"]);
    expect(found(readStand([procedureFile], [WRITTEN_KINGFISHER], TODAY))).toEqual([
      "stand-incomplete the files",
    ]);
    const rig = readStand([rigFile], [], TODAY);
    expect(!rig.ok && rig.issues[0]?.detail).toBe('there is a rig for "heron", and no procedure');
  });

  test("that is none is refused file by file", () => {
    expect(
      found(
        readStand(
          [
            { name: "photo.jpg", text: "\u00ff\u00d8" },
            { name: "list.json", text: "[1, 2]" },
            { name: "null.json", text: "null" },
            { name: "run.json", text: '{"format":"fourfast-run"}' },
          ],
          [],
          TODAY,
        ),
      ),
    ).toEqual([
      "stand-unreadable photo.jpg",
      "stand-unreadable list.json",
      "stand-unreadable null.json",
      "stand-unreadable run.json",
    ]);
  });

  test("of a newer version, with a strange field, or with a part missing says each", () => {
    const text = editJson(heron.text, { version: 2, colour: "red", rig: undefined });
    expect(found(readStand([{ name: "s.json", text }], [], TODAY))).toEqual([
      "stand-unreadable s.json, version",
      "stand-unreadable s.json, colour",
      "stand-unreadable s.json, rig",
    ]);
    expect(found(parseStand({ name: "s.json", text }))).toHaveLength(3);
  });

  test("comes one at a time", () => {
    const other = { name: "kingfisher.json", text: standText(WRITTEN_KINGFISHER) };
    expect(found(readStand([heron, other], [], TODAY))).toEqual([
      "stand-twice the rig",
      "stand-twice the procedure",
    ]);
  });

  test("with faults in both halves lists all of them, each with its file", () => {
    const rig = editJson(rigFile.text, { "bottle.limit_Pa": 200_000, ridingMass_kg: "heavy" });
    const procedure = editJson(procedureFile.text, {
      approvedBy: WRITTEN_HERON.written.author,
      "phases.filling": [],
    });
    const faults = found(
      readStand(
        [
          { name: "r.json", text: rig },
          { name: "p.json", text: procedure },
        ],
        [],
        TODAY,
      ),
    );
    expect(faults.filter((fault) => fault.includes(" r.json, ")).length).toBeGreaterThanOrEqual(2);
    expect(faults.filter((fault) => fault.includes(" p.json, ")).length).toBeGreaterThanOrEqual(2);
    expect(faults.some((fault) => fault.startsWith("signed "))).toBe(true);
    expect(
      found(
        parseStand({
          name: "s",
          text: editJson(heron.text, { "rig.ridingMass_kg": "heavy", "procedure.revision": "first" }),
        }),
      ),
    ).toHaveLength(2);
  });

  test("that is a run or a plan is told what it is, and the same file twice is once", () => {
    const plan = '{"format":"fourfast-matrix","version":1}';
    const run = '{"format":"fourfast-run","run":"H-1-01"}\n{}\n';
    const read = readStand(
      [
        { name: "a", text: plan },
        { name: "b", text: run },
      ],
      [],
      TODAY,
    );
    expect(!read.ok && read.issues.map(({ detail }) => detail)).toEqual(["it is a plan", "it is a run"]);
    expect(readStand([heron, { ...heron, name: "copy.json" }], [], TODAY).ok).toBe(true);
  });

  test("a rig alone stands, whatever its known procedure then lacks: the rig's facts are facts", () => {
    const tagged = editJson(rigFile.text, {
      service: { in: false, tag: "slide bent" },
      "emptying.kind": "release",
    });
    const lapsed = {
      ...WRITTEN_HERON,
      written: { ...WRITTEN_HERON.written, approvedBy: WRITTEN_HERON.written.author },
    };
    const read = readStand([{ name: "r.json", text: tagged }], [lapsed], TODAY);
    expect(read.ok && read.value.waits.map(({ code }) => code)).toEqual(["signed", "rig-out-of-service"]);
  });

  test("is approved by another person, not by other letters", () => {
    const author = WRITTEN_HERON.written.author;
    const text = editJson(heron.text, {
      "procedure.author": author.toLowerCase(),
      "procedure.approvedBy": author.toUpperCase(),
    });
    expect(found(readStand([{ name: "s", text }], [], TODAY))).toEqual(["signed s, procedure, approvedBy"]);
  });

  test("that nobody approved, or that is tagged out, is read, and waits", () => {
    const text = editJson(heron.text, {
      "procedure.approvedBy": undefined,
      "rig.service": { in: false, tag: "slide bent" },
    });
    const read = readStand([{ name: "s.json", text }], [], TODAY);
    expect(read.ok && read.value.waits.map(({ code }) => code)).toEqual([
      "not-approved",
      "rig-out-of-service",
    ]);
  });
});

describe("what changes from one version of a stand to the next", () => {
  const { rig, written } = WRITTEN_HERON;

  test("is nothing between a stand and itself", () => {
    expect(standChanges(WRITTEN_HERON, structuredClone(WRITTEN_HERON))).toEqual([]);
  });

  test("is told number by number of the rig", () => {
    const after = { rig: { ...rig, bottle: { ...rig.bottle, limit_Pa: 450_000 } }, written };
    expect(standChanges(WRITTEN_HERON, after)).toEqual([
      { where: "rig bottle limit_Pa", before: `${rig.bottle.limit_Pa}`, after: "450000" },
    ]);
    const fewer = { rig: { ...rig, restraints: rig.restraints.slice(0, 3) }, written };
    expect(standChanges(WRITTEN_HERON, fewer).map(({ where, after }) => [where, after])).toContainEqual([
      "rig restraints 3 mark",
      undefined,
    ]);
  });

  test("is told step by step of the procedure: changed, gone, new, and in another order", () => {
    const [first, second, ...rest] = written.phases.filling;
    if (!first || !second) throw new Error("Heron's filling has two steps");
    const phases = (filling: typeof written.phases.filling) => ({
      rig,
      written: { ...written, phases: { ...written.phases, filling } },
    });
    const reworded = phases([{ ...first, text: "Otherwise." }, second, ...rest]);
    expect(standChanges(WRITTEN_HERON, reworded)).toEqual([
      { where: `filling ${first.id} text`, before: first.text, after: "Otherwise." },
    ]);
    const gone = standChanges(WRITTEN_HERON, phases([second, ...rest]));
    expect(
      gone.every(({ where, after }) => where.startsWith(`filling ${first.id} `) && after === undefined),
    ).toBe(true);
    expect(gone.length).toBeGreaterThan(0);
    const turned = standChanges(WRITTEN_HERON, phases([second, first, ...rest]));
    expect(turned.map(({ where }) => where)).toEqual(["filling, order of steps"]);
  });
});
