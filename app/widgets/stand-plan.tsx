import type { Restraint, Rig } from "../../core/rig/rig.ts";
import "./drawings.css";

/** How a restraint is drawn: the one at hand is the big black one; the rest say nothing but their mark. */
type Props = {
  readonly rig: Rig;
  readonly atHand?: string;
};

const VIEW = { width: 200, height: 150 };
const ROOM = { x: 62, y: 44 };

/** Plan of the stand from above, drawn from the rig: y is away from the line, so the line is below. */
export function StandPlan({ rig, atHand }: Props) {
  const place = placer(rig.restraints);
  const hand = rig.restraints.find(({ id }) => id === atHand);
  const where = hand ? `, ${hand.mark} ${sideOf(place(hand))}` : "";
  return (
    <svg
      class="stand-plan"
      viewBox={`0 0 ${VIEW.width} ${VIEW.height}`}
      role="img"
      aria-label={`Plan of the stand seen from above, the line below${where}`}
    >
      <rect
        class="plan-frame"
        x={VIEW.width / 2 - ROOM.x}
        y={VIEW.height / 2 - ROOM.y}
        width={ROOM.x * 2}
        height={ROOM.y * 2}
        rx="4"
      />
      <circle class="plan-collar" cx={VIEW.width / 2} cy={VIEW.height / 2} r="33" />
      <circle class="plan-bottle" cx={VIEW.width / 2} cy={VIEW.height / 2} r="24" />
      {rig.restraints.map((restraint) => (
        <Mark key={restraint.id} mark={restraint.mark} at={place(restraint)} now={restraint.id === atHand} />
      ))}
    </svg>
  );
}

type Spot = { readonly x: number; readonly y: number };

function Mark({ mark, at, now }: { readonly mark: string; readonly at: Spot; readonly now: boolean }) {
  const [width, height] = now ? [62, 52] : [40, 32];
  return (
    <g class={now ? "plan-mark now" : "plan-mark"}>
      <rect x={at.x - width / 2} y={at.y - height / 2} width={width} height={height} rx="3" />
      <text x={at.x} y={at.y} font-size={now ? 40 : 24}>
        {mark}
      </text>
    </g>
  );
}

/** Spreads the rig's own positions over the drawing, whatever their size in metres. */
function placer(restraints: readonly Restraint[]): (restraint: Restraint) => Spot {
  const reach = (axis: "x" | "y") => Math.max(...restraints.map(({ at }) => Math.abs(at[axis])), 1e-6);
  const [reachX, reachY] = [reach("x"), reach("y")];
  return ({ at }) => ({
    x: VIEW.width / 2 + (at.x / reachX) * ROOM.x,
    y: VIEW.height / 2 - (at.y / reachY) * ROOM.y,
  });
}

function sideOf({ x, y }: Spot): string {
  const across = x < VIEW.width / 2 - 5 ? "left" : x > VIEW.width / 2 + 5 ? "right" : "";
  const along = y < VIEW.height / 2 - 5 ? "far" : y > VIEW.height / 2 + 5 ? "near" : "";
  return [along, across].filter((word) => word !== "").join(" ");
}
