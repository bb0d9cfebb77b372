import * as v from "valibot";
import { list, name, quantity, whole, words } from "../schema/parts.ts";
import type { DeepReadonly, SameShape } from "../schema/same-shape.ts";
import { FACTS, type FactId } from "../sequence/facts.ts";
import { ROLES } from "../sequence/roles.ts";
import { PHASES, type PhaseId, type Procedure, RIG_NUMBERS } from "./procedure.ts";

/** The procedure as a strict schema; published as docs/schemas/procedure.schema.json. */

const FACT_IDS: readonly FactId[] = FACTS.map(({ id }) => id);

const RoleSchema = v.pipe(v.picklist(ROLES), v.description("who does it"));

const AnswerSchema = v.strictObject({
  text: words("the state as it is seen", 60),
  good: v.pipe(v.boolean(), v.description("whether the run may go on with it")),
});

const BandSchema = v.pipe(
  v.strictObject({
    min: v.exactOptional(quantity("SI", { least: -1e6, greatest: 1e9 })),
    max: v.exactOptional(quantity("SI", { least: -1e6, greatest: 1e9 })),
    of: v.exactOptional(
      v.pipe(
        v.picklist(RIG_NUMBERS),
        v.description("the rig's own number with its tolerance; min or max beside it stands for that end"),
      ),
    ),
  }),
  v.description("limits in SI: kg, Pa gauge, °C, N, s; a missing end is open"),
);

const FormSchema = v.pipe(
  v.variant("kind", [
    v.strictObject({ kind: v.literal("act") }),
    v.strictObject({
      kind: v.literal("look"),
      answers: v.pipe(
        v.array(AnswerSchema),
        v.minLength(2, "at least 2 answers"),
        v.maxLength(6, "at most 6 answers"),
        v.description("states to choose from"),
      ),
    }),
    v.strictObject({
      kind: v.literal("measure"),
      quantity: v.pipe(
        v.picklist(["water", "pressure", "temperature", "force", "duration", "count"]),
        v.description("what is measured"),
      ),
      unit: v.pipe(v.string(), v.maxLength(8, "a unit"), v.description("the unit that is typed")),
      instrument: words("a gauge's id, or the instrument's name", 40),
      band: BandSchema,
    }),
    v.strictObject({
      kind: v.literal("say"),
      words: words("what is said; {run} stands for the run's code"),
      reply: words("what must come back"),
    }),
    v.strictObject({ kind: v.literal("wait"), seconds: whole("s", { least: 1, greatest: 3600 }) }),
    v.strictObject({
      kind: v.literal("each-restraint"),
      round: v.pipe(v.picklist([1, 2]), v.description("1 the installer's, 2 the verifier's")),
    }),
  ]),
  v.description("what kind of act it is, and how it is answered"),
);

const WarningSchema = v.strictObject({
  signal: v.pipe(v.picklist(["DANGER", "WARNING", "CAUTION", "NOTICE"]), v.description("fits the severity")),
  hazard: words("what is dangerous", 120),
  result: words("what it does to you", 120),
  avoid: words("how to keep from it", 120),
  severity: v.pipe(
    v.picklist([1, 2, 3, 4, 5]),
    v.description(
      "5 lasting injury, 4 injury needing treatment, 3 bruise or damage, 2 lost test, 1 nuisance",
    ),
  ),
});

const HoldSchema = v.strictObject({
  kind: v.pipe(
    v.picklist(["hold", "witness"]),
    v.description("a hold needs consent; a witness is given notice"),
  ),
  opens: v.pipe(v.picklist(ROLES), v.description("who consents")),
  evidence: words("on what evidence"),
  onNo: words("what “no” does"),
});

const TimeLimitSchema = v.strictObject({
  note: words("said before the clock starts"),
  startsAt: words("the event that starts the clock"),
  limit_s: quantity("s", { least: 0.5, greatest: 86_400 }),
  ifMissed: words("what is done when it is missed"),
  tries: whole("how often it may be tried", { least: 1, greatest: 20 }),
});

export const StepSchema = v.strictObject({
  id: name("short name, used in the log"),
  text: words("one act, verb first, at most 20 words; {water}, {pressure}: the rig's", 200),
  form: FormSchema,
  role: RoleSchema,
  place: v.pipe(v.picklist(["stand", "post", "line", "indoors", "bench"]), v.description("where it is done")),
  proves: v.pipe(
    v.array(v.picklist(FACT_IDS)),
    v.maxLength(FACT_IDS.length, "each fact once"),
    v.description("facts that this step establishes"),
  ),
  skippable: v.pipe(v.boolean(), v.description("whether it may be skipped, with a reason and a second nod")),
  warning: v.exactOptional(WarningSchema),
  why: v.exactOptional(words("why it is done")),
  hold: v.exactOptional(HoldSchema),
  timeLimit: v.exactOptional(TimeLimitSchema),
  hazards: v.pipe(v.array(words("a number of docs/hazards.md", 4)), v.description("hazards it answers")),
  takes_s: quantity("s, estimated", { least: 0, greatest: 3600 }),
});

const phase = list(StepSchema, "steps in their order");

const PhasesSchema = v.pipe(
  v.strictObject(Object.fromEntries(PHASES.map((id) => [id, phase])) as Record<PhaseId, typeof phase>),
  v.description("the steps of each phase; a phase may be empty"),
);

const DeviationSchema = v.strictObject({
  rule: name("the rule that is not met"),
  where: words("the place that the rule names"),
  why: words("why it cannot be met, and what stands in for it"),
  acceptedBy: name("who accepted it: a code, never a name"),
  until: v.pipe(v.string(), v.isoDate("a date, 2026-07-31"), v.description("its last day")),
});

export const ProcedureSchema = v.pipe(
  v.strictObject({
    format: v.literal("fourfast-procedure"),
    version: v.literal(1),
    id: name("short name"),
    title: words("what the crew calls it", 80),
    revision: whole("1, 2, 3…", { least: 1, greatest: 10_000 }),
    forRig: name("id of the rig it is for"),
    synthetic: v.pipe(v.boolean(), v.description("true where it is invented")),
    author: name("a code, never a name"),
    approvedBy: v.exactOptional(name("a code, never the author's")),
    phases: PhasesSchema,
    deviations: list(DeviationSchema, "rules not met, by whose word, until when"),
  }),
  v.title("Fourfast procedure, version 1"),
);

const sameShape: SameShape<DeepReadonly<v.InferOutput<typeof ProcedureSchema>>, Procedure> = true;
void sameShape;
