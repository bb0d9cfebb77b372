import { useMemo } from "preact/hooks";
import { PHASES, type Procedure } from "../../core/procedure/procedure.ts";
import type { WrittenDocuments } from "../../core/procedure/rig-numbers.ts";
import { spokenDigest } from "../../core/record/digest.ts";
import type { Rig } from "../../core/rig/rig.ts";
import { unitNamed } from "../../core/units/units.ts";
import { shortNumber } from "../../core/units/value-text.ts";
import { standDigest } from "../session/kept-stands.ts";
import { ROLE_NAME, STATE_TITLE } from "../text.ts";
import { SitePlan } from "../widgets/site-plan.tsx";
import { StandPlan } from "../widgets/stand-plan.tsx";

/** Everything of a stand that a person would check with the stand before them. */
export function StandNumbers({ documents }: { readonly documents: WrittenDocuments }) {
  const digest = useMemo(() => standDigest(documents), [documents]);
  const { rig } = documents;
  return (
    <div class="stand-numbers">
      <dl>
        {[...rigRows(rig), ...procedureRows(documents)].map(([what, value]) => (
          <div key={what}>
            <dt>{what}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
      <div class="stand-pictures">
        <StandPlan rig={rig} />
        <SitePlan rig={rig} />
      </div>
      <Steps of={documents.written} />
      <p>
        Mark of this version: <b class="number">{spokenDigest(digest)}</b>. It is the same on every device
        that goes by it.
      </p>
    </div>
  );
}

/** The procedure as its crew will go through it. */
function Steps({ of }: { readonly of: Procedure }) {
  return (
    <details open={of.approvedBy === undefined}>
      <summary>Its steps</summary>
      {PHASES.map((phase) => (
        <div key={phase}>
          <h4>{STATE_TITLE[phase]}</h4>
          <ol>
            {of.phases[phase].map(({ id, text, role, hold, skippable, warning }) => (
              <li key={id}>
                {warning && <b>{warning.signal}. </b>}
                {text}{" "}
                <span class="lead">
                  {ROLE_NAME[role]}
                  {hold && `; opened by the ${hold.opens}: ${hold.evidence}`}
                  {skippable && "; may be skipped"}
                </span>
              </li>
            ))}
          </ol>
        </div>
      ))}
    </details>
  );
}

const inUnit = (value: number, unit: string): string =>
  `${shortNumber(value / (unitNamed(unit)?.toSI ?? 1), 4)} ${unit}`;

/** In the unit of the gauge on the bottle's side of the supply: the one that the crew reads. */
const faceUnit = ({ gauges }: Rig): string => gauges.find(({ side }) => side !== "supply")?.unit ?? "bar";

type Row = readonly [what: string, value: string];

function rigRows(rig: Rig): readonly Row[] {
  const { bottle, fill, pressure, limits, pull, emptying } = rig;
  const bar = (value_Pa: number) => inUnit(value_Pa, faceUnit(rig));
  return [
    ["Owner, letter of its runs", `${rig.owner}, ${rig.letter}`],
    ["Invented", rig.synthetic ? "yes: its runs are marked SYNTHETIC" : "no"],
    ["Bottle", `${inUnit(bottle.capacity_m3, "L")}, ${bottle.shotsSoFar} of ${bottle.shotsAllowed} shots`],
    ["Bottle's limit", bar(bottle.limit_Pa)],
    ["Set pressure", `${bar(pressure.set_Pa)} ± ${bar(pressure.tolerance_Pa)}`],
    ["Water", `${inUnit(fill.water_kg, "g")} ± ${inUnit(fill.tolerance_kg, "g")}`],
    ["Opening", inUnit(rig.opening.diameter_m, "mm")],
    ["Restraints", `${rig.restraints.length}: ${rig.restraints.map(({ mark }) => mark).join(", ")}`],
    ["Pull test", `${pull.force_N} N, ${pull.direction}`],
    ["Flies if nothing holds", `${rig.ridingMass_kg} kg`],
    ["Emptied by", `its ${emptying.kind}; shown by: ${emptying.evidence}`],
    [
      "Supply",
      `${rig.supply.kind}, worked from ${bar(rig.supply.workingMin_Pa)} to ${bar(rig.supply.workingMax_Pa)}`,
    ],
    [
      "Zero to release",
      `${limits.zeroToRelease_s} s; ${limits.zeros} zeros, ${limits.pulls} pulls a build-up`,
    ],
    ["Longest at pressure", `${limits.timeAtPressure_s} s`],
    [
      "Clear counts for",
      `${limits.clearBeforeAir_s} s before air, ${limits.clearBeforeZero_s} s before the zero`,
    ],
    ["Gauges agree within", bar(limits.gaugesAgree_Pa)],
    ["One-way valve opens at", bar(rig.oneWayValveOpens_Pa)],
    ["Wait", `${limits.waitAfterRelease_s} s after a release, ${limits.waitAfterDoubt_s} s after any doubt`],
    [
      "Gauges",
      rig.gauges
        .map(({ name, side, unit, range_Pa }) => `${name} (${side}, to ${inUnit(range_Pa.max, unit)})`)
        .join("; "),
    ],
    ["Force channels", rig.channels.map(({ name, unit }) => `${name} (${unit})`).join("; ") || "none"],
    [
      "Closed sectors",
      rig.sectors
        .map(({ name, from_deg, to_deg, radius_m }) => `${name}, ${from_deg}° to ${to_deg}°, ${radius_m} m`)
        .join("; ") || "none",
    ],
    [
      "Parts that wear",
      rig.parts.map(({ name, count, limit }) => `${name}: ${count} of ${limit}`).join("; ") || "none",
    ],
    ["Places", rig.places.map(({ name, at }) => `${name} ${metresOut(at)}`).join("; ")],
    ["Responsible", rig.responsible.join(", ")],
    ["In service", rig.service.in ? "yes" : `no: ${rig.service.tag}`],
  ];
}

const metresOut = ({ x, y }: { readonly x: number; readonly y: number }): string =>
  `${shortNumber(Math.hypot(x, y), 2)} m`;

function procedureRows({ written }: WrittenDocuments): readonly Row[] {
  const steps = PHASES.reduce((sum, phase) => sum + written.phases[phase].length, 0);
  const { deviations } = written;
  return [
    ["Procedure", `${written.title}, revision ${written.revision}, ${steps} steps`],
    ["Written by, approved by", `${written.author}, ${written.approvedBy ?? "nobody yet"}`],
    [
      "Accepted deviations",
      deviations.length === 0
        ? "none"
        : deviations
            .map(({ rule, acceptedBy, until }) => `${rule}, by ${acceptedBy}, until ${until}`)
            .join("; "),
    ],
  ];
}
