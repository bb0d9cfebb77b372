import { type Deviation, PHASES, type Step, stepsOf } from "../../core/procedure/procedure.ts";
import { canonicalDocument } from "../../core/record/canonical.ts";
import { digest, spokenDigest } from "../../core/record/digest.ts";
import { isVolumeUnit } from "../../core/record/reading-value.ts";
import type { Rig } from "../../core/rig/rig.ts";
import { ROLES } from "../../core/sequence/roles.ts";
import type { RunDocuments } from "../ports.ts";
import { ANSWER, CALL, PLACE_NAME, ROLE_NAME, STATE_TITLE } from "../text.ts";
import { bandWords, type Measure, massUnitOf } from "../widgets/band-words.ts";
import { Button } from "../widgets/button.tsx";
import { withRun } from "../widgets/log-words.ts";
import { SafingCard } from "./safing-card.tsx";
import "./print-card.css";

/** The procedure on paper, for when the phone is not to be had; the making-safe card is its back. */
export function PrintCard({ documents, home }: { readonly documents: RunDocuments; readonly home: string }) {
  const { rig, procedure } = documents;
  return (
    <div class="card-page">
      <nav class="no-print">
        <Button onPress={() => print()}>Print, both sides (A4 or Letter)</Button>
        <a href={home}>Start</a>
      </nav>
      <main>
        <header class="card-head">
          <h1>{rig.name}</h1>
          <p>
            {procedure.title}, revision {procedure.revision}
            {procedure.approvedBy === undefined ? ", NOT APPROVED" : `, approved by ${procedure.approvedBy}`}.
            Seal {sealOf(documents)}.
          </p>
          {!rig.service.in && <p class="card-warning">OUT OF SERVICE: {rig.service.tag}. No run on it.</p>}
          <p class="card-blanks">
            {["Run", "Date", ...ROLES.map((role) => ROLE_NAME[role])].map((name) => (
              <span key={name}>{name}</span>
            ))}
          </p>
        </header>
        {PHASES.filter((phase) => stepsOf(procedure, phase).length > 0).map((phase) => (
          <section key={phase} class="card-stage">
            <h2>{STATE_TITLE[phase]}</h2>
            <ol>
              {stepsOf(procedure, phase).map((step) => (
                <StepLine key={step.id} rig={rig} step={step} />
              ))}
            </ol>
            {phase !== "armed" && <p class="card-call">{callAfter(phase)}</p>}
          </section>
        ))}
        {procedure.deviations.length > 0 && <AcceptedDeviations of={procedure.deviations} />}
        <p class="card-note">
          A run kept on this card: its water and its pressure go onto the Bench beside its force file, and the
          card stays with the records.
        </p>
      </main>
      <SafingCard rig={rig} />
    </div>
  );
}

function AcceptedDeviations({ of }: { readonly of: readonly Deviation[] }) {
  return (
    <section class="card-stage">
      <h2>Accepted deviations</h2>
      <ul>
        {of.map(({ rule, where, why, acceptedBy, until }) => (
          <li key={`${rule} ${where}`}>
            {rule}, {where}: {why} Accepted by {acceptedBy} until {until}.
          </li>
        ))}
      </ul>
    </section>
  );
}

function StepLine({ rig, step }: { readonly rig: Rig; readonly step: Step }) {
  return (
    <li>
      {step.warning && (
        <p class="card-warning">
          <b>{step.warning.signal}</b> {step.warning.hazard} {step.warning.result} {step.warning.avoid}
        </p>
      )}
      <div class="card-step">
        <p>
          {step.text}{" "}
          <small>
            {ROLE_NAME[step.role]}, {PLACE_NAME[step.place]}
          </small>
        </p>
        <p class="card-answer">
          <StepAnswer rig={rig} step={step} />
        </p>
      </div>
    </li>
  );
}

/** Where the run's code is said, it is written in. */
const BLANK = "_______";

/** What is written down: the state seen, out of the same list as on the phone, or a number. */
function StepAnswer({ rig, step: { form } }: { readonly rig: Rig; readonly step: Step }) {
  switch (form.kind) {
    case "look":
      return <Boxes words={form.answers.map(({ text }) => text)} />;
    case "measure":
      return form.quantity === "water" ? (
        <WaterLines form={form} />
      ) : (
        <span>
          ________ {form.unit} on {gaugeName(rig, form.instrument)}. Wanted: {bandWords(form)}
        </span>
      );
    case "say":
      return (
        <span>
          “{withRun(form.words, BLANK)}” Hear “{withRun(form.reply, BLANK)}” <Boxes words={["heard back"]} />
        </span>
      );
    case "wait":
      return <span>{form.seconds} s, waited ______ s</span>;
    case "each-restraint":
      return (
        <>
          {(form.round === 1 ? rig.restraints : rig.restraints.toReversed()).map(({ id, mark }) => (
            <span key={id} class="card-restraint">
              <b>{mark}</b> <Boxes words={[ANSWER.home, ANSWER.part, ANSWER.open, ANSWER.unseen]} />
            </span>
          ))}
        </>
      );
    default:
      return <Boxes words={["done"]} />;
  }
}

const gaugeName = (rig: Rig, instrument: string): string =>
  rig.gauges.find(({ id }) => id === instrument)?.name ?? instrument;

/** Both ways to the water's mass, the step's own first; a reading that is not subtracted is kept with its tare. */
function WaterLines({ form }: { readonly form: Measure }) {
  const poured = isVolumeUnit(form.unit);
  const lines = [
    `______ with the water − ______ tare = ______ ${massUnitOf(form.unit)}${poured ? "" : ` on ${form.instrument}`}`,
    `______ ${poured ? `${form.unit} in ${form.instrument}` : "mL in a graduated vessel"}, water at ____ °C`,
  ];
  const [own, other] = poured ? lines.toReversed() : lines;
  return (
    <>
      <span class="card-line">{own}</span>
      <span class="card-line">or {other}</span>
      <span class="card-line">Wanted: {bandWords(form)}</span>
    </>
  );
}

function Boxes({ words }: { readonly words: readonly string[] }) {
  return (
    <>
      {words.map((word) => (
        <span key={word} class="card-box">
          {word}
        </span>
      ))}
    </>
  );
}

const CALLS: { readonly [phase: string]: keyof typeof CALL } = {
  preparing: "fill-called",
  filling: "seal-called",
  sealing: "mount-called",
  mounting: "restrain-called",
  restraining: "line-called",
  clearing: "air-called",
  charging: "pressure-called",
  charged: "arm-called",
  "making-safe": "wait-called",
  approaching: "close-called",
};

const callAfter = (phase: string): string => {
  const call = CALLS[phase];
  return call ? `Say: “${CALL[call].say}”` : "";
};

const sealOf = ({ procedure }: RunDocuments): string => {
  const text = canonicalDocument(procedure);
  return text.ok ? spokenDigest(digest(text.value)) : "none";
};
