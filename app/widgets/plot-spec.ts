/**
 * A picture as plain data: what is drawn, in which units, never how. Only `plot-draw.ts` knows the library that
 * draws it, so faces can be tested without one and the library can be changed in one place.
 */
export type PlotSpec = {
  /** Read out in place of the picture: what it shows, with its main number. */
  readonly label: string;
  readonly x: PlotAxis;
  readonly y: PlotAxis;
  readonly height_px: number;
  /** Painted in this order. */
  readonly marks: readonly PlotMark[];
};

export type PlotAxis = {
  /** Quantity and unit: "force, N". */
  readonly label: string;
  /** Absent: whatever the marks need. */
  readonly domain?: readonly [number, number];
  readonly grid?: boolean;
  /** Values that get words instead of numbers. */
  readonly words?: readonly { readonly at: number; readonly text: string }[];
};

/**
 * What a mark stands for, not its colour: the style sheet gives each tone a colour for light, night and print,
 * and `plot-draw.ts` a dash or a symbol, so that black and white still tells them apart.
 */
export type Tone =
  | "measured"
  | "predicted"
  | "raw"
  | "limit"
  | "chosen"
  | "done"
  | "planned"
  | "faint"
  | "odd";

type Numbers = readonly number[] | Float64Array;

export type PlotMark =
  /** NaN in y is a gap: the line is not drawn across it. */
  | { readonly kind: "line"; readonly x: Numbers; readonly y: Numbers; readonly tone: Tone }
  | {
      readonly kind: "band";
      readonly x: Numbers;
      readonly low: Numbers;
      readonly high: Numbers;
      readonly tone: Tone;
    }
  | {
      readonly kind: "points";
      readonly x: Numbers;
      readonly y: Numbers;
      readonly tone: Tone;
      readonly titles?: readonly string[];
    }
  /** Upright bars from low to high at each x: an interval, not an error of the reader. */
  | {
      readonly kind: "intervals";
      readonly x: Numbers;
      readonly low: Numbers;
      readonly high: Numbers;
      readonly tone: Tone;
    }
  | {
      readonly kind: "bars";
      readonly x: Numbers;
      readonly y: Numbers;
      readonly width: number;
      readonly tone: Tone;
    }
  | { readonly kind: "upright"; readonly x: number; readonly tone: Tone; readonly text?: string }
  | { readonly kind: "level"; readonly y: number; readonly tone: Tone; readonly text?: string }
  /** A part of the picture, open on the sides that are left out. */
  | {
      readonly kind: "region";
      readonly x?: readonly [number, number];
      readonly y?: readonly [number, number];
      readonly tone: Tone;
    }
  | {
      readonly kind: "words";
      readonly x: number;
      readonly y: number;
      readonly text: string;
      readonly tone: Tone;
      readonly anchor?: "start" | "middle" | "end";
    }
  | ContourMark;

/** Height lines of a map on an even grid; NaN where there is nothing to show. */
export type ContourMark = {
  readonly kind: "contours";
  /** Row after row from the least y up; columns from the least x. */
  readonly values: Numbers;
  readonly columns: number;
  readonly rows: number;
  /** The outermost grid points. */
  readonly x: readonly [number, number];
  readonly y: readonly [number, number];
  readonly levels: readonly number[];
};

/** Where the picture's frame lies and how its axes run, for what is laid over it. */
export type PlotFrame = {
  readonly width_px: number;
  readonly height_px: number;
  readonly left_px: number;
  readonly right_px: number;
  readonly top_px: number;
  readonly bottom_px: number;
  readonly x: PlotScale;
  readonly y: PlotScale;
};

export type PlotScale = {
  readonly toPixel: (value: number) => number;
  readonly toValue: (pixel: number) => number;
  readonly domain: readonly [number, number];
};
