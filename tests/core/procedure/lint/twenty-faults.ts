import procedureHeron from "../../../../app/demo/procedure-heron.json";

// biome-ignore lint/suspicious/noExplicitAny: the point is to break the document in every way
type Json = any;

/** The shipped procedure with twenty faults of twenty kinds, and "code at where" of each. */
export const twentyFaults = (): { readonly json: Json; readonly faults: readonly string[] } => {
  const json = structuredClone(procedureHeron) as Json;
  const { phases } = json;
  const faults: string[] = [];
  const fault = (code: string, where: string, make: () => void) => {
    make();
    faults.push(`${code} at ${where}`);
  };
  fault("version-newer", "version", () => (json.version = 3));
  fault("key-unknown", "colour", () => (json.colour = "red"));
  fault("key-unknown", "phases.preparing[0].note", () => (phases.preparing[0].note = "new"));
  fault("out-of-range", "title", () => (json.title = ""));
  fault("key-missing", "phases.preparing[1].takes_s", () => delete phases.preparing[1].takes_s);
  fault("wrong-type", "phases.preparing[4].skippable", () => (phases.preparing[4].skippable = "no"));
  fault("value-unknown", "phases.approaching[0].place", () => (phases.approaching[0].place = "field"));
  fault("signed", "approvedBy", () => (json.approvedBy = json.author));
  fault("facts-proved", "phases.filling", () => (phases.filling[0].proves = []));
  fault("short-lists", "phases.filling", () => (phases.filling[1].takes_s = 200));
  fault("one-act", "phases.sealing[3].text", () => (phases.sealing[3].text = "Soap the stopper properly."));
  fault(
    "warning-fits",
    "phases.sealing[4].warning.signal",
    () => (phases.sealing[4].warning.signal = "NOTICE"),
  );
  fault(
    "observed-state",
    "phases.mounting[2].form.answers[0]",
    () => (phases.mounting[2].form.answers[0].text = "OK"),
  );
  fault("restraint-rounds", "phases.restraining[3].role", () => (phases.restraining[3].role = "installer"));
  fault(
    "numbers-of-the-rig",
    "phases.clearing[1].form.band",
    () => (phases.clearing[1].form.band.max = 350_000),
  );
  fault("measure-readable", "phases.charging[2].form.unit", () => (phases.charging[2].form.unit = "kPa"));
  fault(
    "critical-never-skippable",
    "phases.charged[0].skippable",
    () => (phases.charged[0].skippable = true),
  );
  fault("away-while-charged", "phases.charged[3].place", () => (phases.charged[3].place = "stand"));
  fault("holds-complete", "phases.armed[0].hold.opens", () => (phases.armed[0].hold.opens = "conductor"));
  fault("ids-unique", "phases.approaching[2].id", () => (phases.approaching[2].id = "ready"));
  return { json, faults };
};
