import { describe, expect, it } from "vitest";
import { SHIPPED } from "../../../app/demo/documents.ts";
import { canStart } from "../../../core/procedure/lint/can-start.ts";
import { lintProcedure } from "../../../core/procedure/lint/lint-procedure.ts";
import { parseProcedure } from "../../../core/procedure/parse-procedure.ts";
import { PHASES } from "../../../core/procedure/procedure.ts";
import { parseRig } from "../../../core/rig/parse-rig.ts";

describe.each(SHIPPED.map((documents) => [documents.rig.id, documents] as const))(
  "what is shipped for %s",
  (_id, documents) => {
    const { rig, procedure } = documents;
    const steps = PHASES.flatMap((phase) => procedure.phases[phase]);

    it("is read to the letter by the strict schemas", () => {
      expect(parseRig(rig)).toEqual({ ok: true, value: rig });
      expect(parseProcedure(procedure)).toEqual({ ok: true, value: procedure });
    });

    it("is found without fault by the linter and may start a run", () => {
      expect(lintProcedure(procedure, rig)).toEqual({ errors: [], warnings: [], notes: [] });
      expect(canStart(procedure, rig)).toEqual({ ok: true, value: undefined });
    });

    it("says in the data that it is invented", () => {
      expect(rig.synthetic && procedure.synthetic).toBe(true);
      expect(rig.name + procedure.title).toMatch(/SYNTHETIC.*SYNTHETIC/);
      expect(JSON.stringify(documents)).not.toMatch(/\b(?:Mr|Mrs|Dr)\b/);
    });

    it("asks no more than twenty words of a step, and one of each id", () => {
      expect(steps.filter(({ text }) => text.split(/\s+/).length > 20)).toEqual([]);
      expect(new Set(steps.map(({ id }) => id)).size).toBe(steps.length);
    });

    it("never sends anybody to the stand once air may be on", () => {
      const hot = ["charging", "charged", "armed", "making-safe"] as const;
      expect(
        hot.flatMap((phase) => procedure.phases[phase]).filter(({ place }) => place === "stand"),
      ).toEqual([]);
    });
  },
);
