import { PHASES, stepsOf } from "../../core/procedure/procedure.ts";
import { findGauge } from "../../core/rig/gauge-side.ts";
import { type FactId, factRow } from "../../core/sequence/facts.ts";
import type { Missing } from "../../core/sequence/missing.ts";
import { isCold } from "../../core/sequence/states.ts";
import type { RunView } from "../session/live-run.ts";
import { issueWords, STATE_TITLE } from "../text.ts";
import { Button } from "../widgets/button.tsx";
import type { Turn } from "./turn.ts";

type Seen = Pick<RunView, "rig" | "procedure" | "snapshot">;

/** Why it is not open: each thing that is missing, and what to do about it. */
export function MissingList({
  view,
  missing,
}: {
  readonly view: Seen;
  readonly missing: readonly Missing[];
}) {
  return (
    <ul class="missing">
      {missing.map((one) => {
        const { what, todo } = missingWords(view, one);
        return (
          <li key={one.code}>
            <b>{what}</b> {todo}
          </li>
        );
      })}
    </ul>
  );
}

/** As the kernel says it; a reading that lies outside also says which, and where it is read again. */
export const missingWords = (view: Seen, one: Missing): ReturnType<typeof issueWords> => {
  if (one.code !== "readings-inside") return issueWords(one);
  const { outside } = view.snapshot.context;
  const names = outside.map((id) => findGauge(view.rig, id)?.name ?? id).join(", ");
  const steps = outside.filter((id) => !findGauge(view.rig, id)).flatMap((id) => readAt(view, id));
  const todo =
    steps.length > 0
      ? `Measure it again: ${steps.join(" ")}`
      : "Put it right and read it again, or make safe.";
  return issueWords({ ...one, detail: `outside the limits: ${names}`, remedy: todo });
};

/** The steps that read an instrument, with the stage of each. */
const readAt = ({ procedure }: Seen, instrument: string): readonly string[] =>
  PHASES.flatMap((phase) =>
    stepsOf(procedure, phase)
      .filter(({ form }) => form.kind === "measure" && form.instrument === instrument)
      .map(({ text }) => `${STATE_TITLE[phase]}: ${text}`),
  );

const idOf = ({ code }: Missing): FactId => code.split(":")[0] as FactId;

/** The nearest way to what is missing: say it again here, or go back to where it is proved. */
export function Remedies({ turn, missing }: { readonly turn: Turn; readonly missing: readonly Missing[] }) {
  const { view, say, show, now } = turn;
  const { rig, sequence, snapshot } = view;
  const clear = missing.some((one) => idOf(one) === "clear");
  const outside = missing.some(({ code }) => code === "readings-inside") ? snapshot.context.outside : [];
  const gauge = outside.some((id) => findGauge(rig, id));
  const elsewhere =
    outside.some((id) => !findGauge(rig, id)) ||
    missing.some((one) => factRow(sequence.doc.facts, idOf(one)));
  return (
    <div class="answer-row">
      {isCold(snapshot.state) && elsewhere && (
        <Button onPress={() => show({ kind: "back", scrub: false })}>Go back…</Button>
      )}
      {gauge && (
        <Button critical onPress={() => show({ kind: "report", form: "gauge" })}>
          Read it again…
        </Button>
      )}
      {clear && (
        <Button look="go" critical onPress={(tap) => void say({ type: "clear-called", seenBy: now.by }, tap)}>
          Swept: all clear
        </Button>
      )}
    </div>
  );
}
