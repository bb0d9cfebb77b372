/**
 * What stands between the numbers a recorder wrote and the thrust. Each can be switched off to see what
 * it does; each says how much it added to the integral from onset to end.
 */
export const corrections = ["gaps", "clipping", "zero", "discharge", "stopper", "weight"] as const;
export type Correction = (typeof corrections)[number];

export type Layer = {
  readonly correction: Correction;
  readonly on: boolean;
  /** Whether the record gives it anything to correct. */
  readonly needed: boolean;
  /** What it added to the integral, onset to end. */
  readonly added_Ns: number;
  /** What it added at each sample of the event's window, all channels together. */
  readonly added_N: Float64Array;
};

export type Switches = Readonly<Record<Correction, boolean>>;

export const switchesWithout = (off: readonly Correction[]): Switches => ({
  gaps: !off.includes("gaps"),
  clipping: !off.includes("clipping"),
  zero: !off.includes("zero"),
  discharge: !off.includes("discharge"),
  stopper: !off.includes("stopper"),
  weight: !off.includes("weight"),
});
