import type { Place, Rig, Sector } from "../../core/rig/rig.ts";
import "./drawings.css";

/** The ground seen from above: closed sectors, the line, where people stand. Drawn from the rig, in metres. */
export function SitePlan({ rig }: { readonly rig: Rig }) {
  const shown = rig.places.filter(({ kind }) => kind === "line" || kind === "post" || kind === "stand");
  const line = rig.places.find(({ kind }) => kind === "line");
  const reach_m = Math.max(...shown.map(({ at }) => Math.hypot(at.x, at.y)), 3) * 1.15;
  const [width, height] = [reach_m * 3.2, reach_m * 1.75];
  return (
    <svg
      class="site-plan"
      viewBox={`${-width / 2} ${-reach_m * 0.62} ${width} ${height}`}
      role="img"
      aria-label={`Plan of the ground: nobody in ${rig.sectors.map(({ name }) => name).join(", ")}`}
    >
      {rig.sectors.map((sector) => (
        <path key={sector.name} class="site-sector" d={outline(sector, Math.min(sector.radius_m, reach_m))} />
      ))}
      {line && <path class="site-line" d={`M${-width / 2} ${-line.at.y}H${width / 2}`} />}
      {shown.map((place) => (
        <Spot key={place.id} place={place} size={reach_m / 14} />
      ))}
    </svg>
  );
}

function Spot({ place, size }: { readonly place: Place; readonly size: number }) {
  const { x } = place.at;
  const y = -place.at.y;
  return (
    <g class={`site-place at-${place.kind}`}>
      {place.kind === "stand" ? (
        <rect x={x - size} y={y - size} width={size * 2} height={size * 2} />
      ) : (
        <circle cx={x} cy={y} r={size * 0.8} />
      )}
      <text x={x + size * 1.5} y={y - size * 0.9} font-size={size * 2}>
        {place.name.replace(/^the /, "")}
      </text>
    </g>
  );
}

/** Degrees as on a compass rose laid on the plan: 0 away from the line, clockwise. */
function outline({ from_deg, to_deg }: Sector, radius_m: number): string {
  const spot = (degrees: number) => {
    const angle = (degrees * Math.PI) / 180;
    return `${radius_m * Math.sin(angle)} ${-radius_m * Math.cos(angle)}`;
  };
  const sweep = to_deg - from_deg;
  if (sweep >= 360)
    return `M${spot(0)}A${radius_m} ${radius_m} 0 1 1 ${spot(180)}A${radius_m} ${radius_m} 0 1 1 ${spot(0)}Z`;
  return `M0 0L${spot(from_deg)}A${radius_m} ${radius_m} 0 ${sweep > 180 ? 1 : 0} 1 ${spot(to_deg)}Z`;
}
