import { matrixFormat } from "../plan/matrix-file.ts";
import type { WrittenDocuments } from "../procedure/rig-numbers.ts";
import { failed, type Issue, issue, ok, type Result } from "../result.ts";
import { standFormat, standVersion } from "./stand-text.ts";

export type NamedText = { readonly name: string; readonly text: string };

/** The files from which a stand is read, taken apart: what is a rig, what a procedure, and from where. */

type Kind = "rig" | "procedure";
export type Part = {
  readonly kind: Kind;
  readonly from: string;
  readonly json: unknown;
  /** Not among the files: what the device has already. */
  readonly known?: true;
};

const REMEDY = "Choose a stand's file, or its rig's and its procedure's together.";

/** @fails stand-unreadable: the file is neither a stand, a rig nor a procedure */
export function partsOf({ name, text }: NamedText): Result<readonly Part[]> {
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch (fault) {
    if (/^[^\n]{0,500}"format":"fourfast-run"/.test(text))
      return failed(issue("stand-unreadable", name, "it is a run", "Bring it in on the Bench."));
    const detail = `it is not JSON: ${fault instanceof Error ? fault.message : String(fault)}`;
    return failed(issue("stand-unreadable", name, detail, REMEDY));
  }
  const fields = typeof json === "object" && json !== null ? (json as Record<string, unknown>) : {};
  const { format } = fields;
  if (format === "fourfast-rig") return ok([{ kind: "rig", from: name, json }]);
  if (format === "fourfast-procedure") return ok([{ kind: "procedure", from: name, json }]);
  if (format === standFormat) return partsOfStand(name, fields);
  if (format === matrixFormat)
    return failed(issue("stand-unreadable", name, "it is a plan", "Bring it in on the start page."));
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

/** @fails stand-twice, for each kind that is there more than once */
export const twice = (found: readonly Part[]): readonly Issue[] =>
  (["rig", "procedure"] as const).flatMap((kind) => {
    const of = found.filter((part) => part.kind === kind);
    if (of.length < 2) return [];
    const detail = `there is more than one ${kind}: ${of.map(({ from }) => from).join("; ")}`;
    return [issue("stand-twice", `the ${kind}`, detail, "Bring in one stand at a time.")];
  });

export type Whole = { readonly rig: Part; readonly procedure: Part };

const field = ({ json }: Part, key: string): unknown => (json as Record<string, unknown>)[key];

/**
 * Both halves; one that is not among the files is taken from the stands that are known.
 * @fails stand-incomplete
 */
export function completed(found: readonly Part[], known: readonly WrittenDocuments[]): Result<Whole> {
  const rig = found.find(({ kind }) => kind === "rig");
  const procedure = found.find(({ kind }) => kind === "procedure");
  if (rig && procedure) return ok({ rig, procedure });
  const id = rig ? field(rig, "id") : procedure && field(procedure, "forRig");
  const stand = known.find((one) => one.rig.id === id);
  if (stand && rig) {
    const from = "the procedure that is known here";
    return ok({ rig, procedure: { kind: "procedure", from, json: stand.written, known: true } });
  }
  if (stand && procedure)
    return ok({ rig: { kind: "rig", from: "the rig that is known here", json: stand.rig }, procedure });
  const [here, lacks] = rig ? ["rig", "procedure"] : ["procedure", "rig"];
  const detail = `there is a ${here} for ${JSON.stringify(id)}, and no ${lacks}`;
  return failed(issue("stand-incomplete", "the files", detail, REMEDY));
}
