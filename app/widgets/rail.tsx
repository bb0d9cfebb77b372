import { RAIL } from "../../core/sequence/states.ts";

/** The seven stages: done is a filled cell, now is a tall ringed one, ahead is a thin line. */
export function Rail({ position }: { readonly position: number }) {
  const now = RAIL[position];
  const words = now
    ? `Stage ${position + 1} of 7: ${now}`
    : position < 0
      ? "Before stage 1"
      : "After stage 7";
  return (
    <div class="rail" role="img" aria-label={words}>
      {RAIL.map((stage, index) => (
        <i key={stage} class={index < position ? "done" : index === position ? "now" : ""} />
      ))}
    </div>
  );
}
