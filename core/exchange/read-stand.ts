import { canStart } from "../procedure/lint/can-start.ts";
import { lintDocument } from "../procedure/lint/lint-document.ts";
import { parseProcedure } from "../procedure/parse-procedure.ts";
import { type WrittenDocuments, withRigNumbers } from "../procedure/rig-numbers.ts";
import { failed, type Issue, issue, ok, type Result } from "../result.ts";
import { parseRig } from "../rig/parse-rig.ts";
import { standFormat, standVersion } from "./stand-text.ts";

export type NamedText = { readonly name: string; readonly text: string };

export type ReadStand = {
  readonly documents: WrittenDocuments;
  /** Whoever approved the procedure accepted these by name. */
  readonly warnings: readonly Issue[];
  /** Why no run can be started on it as it is. */
  readonly waits: readonly Issue[];
};

/**
 * Reads a stand out of one file, or out of a rig's and a procedure's; a procedure alone is for a stand
 * that is known, a rig alone goes on by its known procedure.
 * @param known  stands of this device
 * @param today  ISO date, against which deviations lapse
 * @fails stand-unreadable, stand-twice, stand-incomplete, what `parseRig` fails with, and every error
 *   of the linter: all of them, each with the name of its file
 */
export function readStand(
  texts: readonly NamedText[],
  known: readonly WrittenDocuments[],
  today: string,
): Result<ReadStand> {
  const parts = texts.map(partsOf);
  const faults = parts.flatMap((part) => (part.ok ? [] : part.issues));
  const found = parts.flatMap((part) => (part.ok ? part.value : []));
  const twice = (["rig", "procedure"] as const).flatMap((kind) => only(kind, found));
  if (faults.length + twice.length > 0) return failed(...faults, ...twice);
  const whole = completed(found, known);
  return whole.ok ? judged(whole.value.rig, whole.value.procedure, today) : whole;
}

/**
 * Reads a stand's file without judging it: for one that was judged when it was kept.
 * @fails stand-unreadable, what `parseRig` and `parseProcedure` fail with
 */
export function parseStand(file: NamedText): Result<WrittenDocuments> {
  const parts = partsOf(file);
  if (!parts.ok) return parts;
  const whole = completed(parts.value, []);
  if (!whole.ok) return whole;
  const [rig, written] = [parseRig(whole.value.rig.json), parseProcedure(whole.value.procedure.json)];
  if (rig.ok && written.ok) return ok({ rig: rig.value, written: written.value });
  return failed(
    ...(rig.ok ? [] : placed(whole.value.rig, rig.issues)),
    ...(written.ok ? [] : placed(whole.value.procedure, written.issues)),
  );
}

type Kind = "rig" | "procedure";
type Part = { readonly kind: Kind; readonly from: string; readonly json: unknown };

const REMEDY = "Choose a stand's file, or its rig's and its procedure's together.";

function partsOf({ name, text }: NamedText): Result<readonly Part[]> {
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch (fault) {
    const detail = `it is not JSON: ${fault instanceof Error ? fault.message : String(fault)}`;
    return failed(issue("stand-unreadable", name, detail, REMEDY));
  }
  const fields = typeof json === "object" && json !== null ? (json as Record<string, unknown>) : {};
  const { format } = fields;
  if (format === "fourfast-rig") return ok([{ kind: "rig", from: name, json }]);
  if (format === "fourfast-procedure") return ok([{ kind: "procedure", from: name, json }]);
  if (format === standFormat) return partsOfStand(name, fields);
  const detail = "it is neither a stand, a rig nor a procedure";
  return failed(issue("stand-unreadable", name, detail, REMEDY));
}

const STAND_KEYS = ["format", "version", "rig", "procedure"];

function partsOfStand(name: string, fields: Record<string, unknown>): Result<readonly Part[]> {
  const at = (where: string, detail: string, remedy: string) =>
    issue("stand-unreadable", `${name}, ${where}`, detail, remedy);
  const faults = [
    ...(fields["version"] === standVersion
      ? []
      : [
          at(
            "version",
            `it is ${JSON.stringify(fields["version"])}, and this version reads ${standVersion}`,
            "Update this device, or save the stand with this version.",
          ),
        ]),
    ...Object.keys(fields)
      .filter((key) => !STAND_KEYS.includes(key))
      .map((key) => at(key, "no field of a stand has this name", "Take it out, or correct its name.")),
    ...STAND_KEYS.filter((key) => fields[key] === undefined).map((key) => at(key, "it is missing", REMEDY)),
  ];
  if (faults.length > 0) return failed(...faults);
  return ok(
    (["rig", "procedure"] as const).map((kind) => ({ kind, from: `${name}, ${kind}`, json: fields[kind] })),
  );
}

function only(kind: Kind, found: readonly Part[]): readonly Issue[] {
  const of = found.filter((part) => part.kind === kind);
  if (of.length < 2) return [];
  const detail = `there is more than one ${kind}: ${of.map(({ from }) => from).join("; ")}`;
  return [issue("stand-twice", `the ${kind}`, detail, "Bring in one stand at a time.")];
}

type Whole = { readonly rig: Part; readonly procedure: Part };

const field = ({ json }: Part, key: string): unknown => (json as Record<string, unknown>)[key];

function completed(found: readonly Part[], known: readonly WrittenDocuments[]): Result<Whole> {
  const rig = found.find(({ kind }) => kind === "rig");
  const procedure = found.find(({ kind }) => kind === "procedure");
  if (rig && procedure) return ok({ rig, procedure });
  const id = rig ? field(rig, "id") : procedure && field(procedure, "forRig");
  const stand = known.find((one) => one.rig.id === id);
  if (stand && rig) {
    const from = "the procedure that is known here";
    return ok({ rig, procedure: { kind: "procedure", from, json: stand.written } });
  }
  if (stand && procedure)
    return ok({ rig: { kind: "rig", from: "the rig that is known here", json: stand.rig }, procedure });
  const [here, lacks] = rig ? ["rig", "procedure"] : ["procedure", "rig"];
  const detail = `there is a ${here} for ${JSON.stringify(id)}, and no ${lacks}`;
  return failed(issue("stand-incomplete", "the files", detail, REMEDY));
}

const placed = ({ from }: Part, issues: readonly Issue[]): readonly Issue[] =>
  issues.map((one) => ({ ...one, where: `${from}, ${one.where}` }));

function judged(rigPart: Part, procedurePart: Part, today: string): Result<ReadStand> {
  const rig = parseRig(rigPart.json);
  const linted = lintDocument(procedurePart.json, rig.ok ? rig.value : undefined, today);
  const written = parseProcedure(procedurePart.json);
  if (!rig.ok || !written.ok || linted.errors.length > 0)
    return failed(...(rig.ok ? [] : placed(rigPart, rig.issues)), ...placed(procedurePart, linted.errors));
  const may = canStart(withRigNumbers(written.value, rig.value), rig.value, today);
  return ok({
    documents: { rig: rig.value, written: written.value },
    warnings: linted.warnings,
    waits: may.ok ? [] : may.issues,
  });
}
