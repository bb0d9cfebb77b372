import type { Rig } from "../../core/rig/rig.ts";

/**
 * The card's back: how a bottle that may be full is made safe without the phone. Everything on it is the rig's own
 * emptying path and numbers.
 */
export function SafingCard({ rig }: { readonly rig: Rig }) {
  return (
    <article class="safing-card">
      <div class="hatch" />
      <h1>Making safe: {rig.name}</h1>
      <p class="safing-first">Stop. Everyone behind the line. Nobody goes near.</p>
      <ol>
        {linesOf(rig).map((line) => (
          <li key={line}>{line}</li>
        ))}
      </ol>
      <h2>If it cannot be shown empty: PRESSURE UNRESOLVED</h2>
      <p>
        No approach. Keep the line. Call the responsible person; only they can end it, with what they saw and
        what was done, in words. Telephone: ____________________
      </p>
      <p>Local codes, the site's rules and the responsible person's word go before this card.</p>
      <div class="hatch" />
    </article>
  );
}

const linesOf = (rig: Rig): readonly string[] => {
  const { limits, emptying } = rig;
  const shut = "Shut the supply at its place outside the sectors. A handle across the line is shut.";
  const approach = [
    `Wait ${limits.waitAfterDoubt_s} s, from the last pull or from the bottle shown empty, whichever is later. ` +
      `${limits.waitAfterRelease_s} s only after a release that was seen.`,
    "One person goes, glasses on, from the side: neither opening nor slide.",
  ];
  if (emptying.kind === "vent") {
    const name = (id: string) => rig.gauges.find((gauge) => gauge.id === id)?.name ?? id;
    return [
      shut,
      `Open the bleed. Read ${name(emptying.lineGauge)} at zero. It says nothing of the bottle.`,
      `Open the vent from outside the line. Read ${name(emptying.bottleGauge)} at zero.`,
      `Empty is only this: ${emptying.evidence}.`,
      ...approach,
    ];
  }
  return [
    shut,
    "Clear the sides and the opening line. Call it, and hear it back.",
    `Pull the release from outside the line, at most ${limits.pulls} pulls in one build-up.`,
    `Empty is only this, seen from the line: ${emptying.evidence}. A gauge at zero shows nothing here.`,
    "Was a restraint seen open? Widen the sectors and ask the responsible person before any pull.",
    ...approach,
  ];
};
