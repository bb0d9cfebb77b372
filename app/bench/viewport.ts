/** The part of a record that is shown, in seconds of its own clock. */
export type Viewport = { readonly from_s: number; readonly to_s: number };

/** The whole record, and the least stretch that is worth a screen. */
export type Extent = Viewport & { readonly least_s: number };

const zoomFactor = 2;
const panPart = 0.25;

export const wholeOf = ({ from_s, to_s }: Extent): Viewport => ({ from_s, to_s });

/** Twice as near about a moment, which stays where it is on the screen. */
export const zoomIn = (view: Viewport, extent: Extent, about_s = middleOf(view)): Viewport =>
  scaled(view, extent, about_s, 1 / zoomFactor);

export const zoomOut = (view: Viewport, extent: Extent, about_s = middleOf(view)): Viewport =>
  scaled(view, extent, about_s, zoomFactor);

/** A quarter of the screen to the left (-1) or right (1). */
export function pan(view: Viewport, extent: Extent, direction: -1 | 1): Viewport {
  const step_s = direction * panPart * lengthOf(view);
  return within({ from_s: view.from_s + step_s, to_s: view.to_s + step_s }, extent);
}

/** A stretch with room around it, as much of it as there is. */
export function around(from_s: number, to_s: number, extent: Extent, room = 0.6): Viewport {
  const side_s = room * (to_s - from_s);
  return within({ from_s: from_s - side_s, to_s: to_s + side_s }, extent);
}

/** The stretch between two moments, whichever way it was drawn. */
export const between = (a_s: number, b_s: number, extent: Extent): Viewport =>
  within({ from_s: Math.min(a_s, b_s), to_s: Math.max(a_s, b_s) }, extent);

const lengthOf = ({ from_s, to_s }: Viewport) => to_s - from_s;
const middleOf = ({ from_s, to_s }: Viewport) => (from_s + to_s) / 2;

function scaled(view: Viewport, extent: Extent, about_s: number, factor: number): Viewport {
  return within(
    { from_s: about_s + (view.from_s - about_s) * factor, to_s: about_s + (view.to_s - about_s) * factor },
    extent,
  );
}

/** Moved, never squeezed, into the record; never nearer than its least stretch. */
function within(view: Viewport, extent: Extent): Viewport {
  const length_s = Math.min(Math.max(lengthOf(view), extent.least_s), lengthOf(extent));
  const centred_s = middleOf(view) - length_s / 2;
  const from_s = Math.min(Math.max(centred_s, extent.from_s), extent.to_s - length_s);
  return { from_s, to_s: from_s + length_s };
}
