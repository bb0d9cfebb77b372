/**
 * A number as a person typed it. What was typed is kept to the letter; what it means in SI is
 * worked out when it is read, so that no rounding of ours ever enters the log.
 */
export type Reading =
  | { readonly kind: "single"; readonly typed: string; readonly unit: string; readonly instrument: string }
  /** Water by weight: with it, less without it, on the same scale. */
  | {
      readonly kind: "difference";
      readonly gross: string;
      readonly tare: string;
      readonly unit: string;
      readonly instrument: string;
    }
  /** Water by graduated vessel: the density follows from the temperature. */
  | {
      readonly kind: "volume";
      readonly typed: string;
      readonly unit: string;
      readonly temperature: string;
      readonly temperatureUnit: string;
      readonly instrument: string;
    };
