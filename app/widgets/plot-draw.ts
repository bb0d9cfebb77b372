import * as library from "@observablehq/plot";
import type { ContourMark, PlotAxis, PlotFrame, PlotMark, PlotScale, PlotSpec, Tone } from "./plot-spec.ts";

/** The one file that calls the plot library; it is loaded when the first picture is, never by the stand. */

type Symbol = "circle" | "square" | "triangle" | "diamond" | "cross" | "times";
type Stroke = {
  readonly width: number;
  readonly dash?: string;
  readonly symbol: Symbol;
  readonly open: boolean;
};

/** How a tone stays itself without colour: by width, dash and symbol. */
const strokes: Readonly<Record<Tone, Stroke>> = {
  measured: { width: 1.75, symbol: "circle", open: false },
  predicted: { width: 2, dash: "7 4", symbol: "diamond", open: true },
  raw: { width: 1, dash: "1.5 2.5", symbol: "times", open: true },
  limit: { width: 2.5, symbol: "square", open: false },
  chosen: { width: 2, symbol: "circle", open: true },
  done: { width: 1.5, symbol: "circle", open: false },
  planned: { width: 1.5, symbol: "square", open: true },
  faint: { width: 1, symbol: "circle", open: true },
  odd: { width: 2, dash: "3 2", symbol: "cross", open: true },
};

const colour = (tone: Tone) => `var(--tone-${tone})`;

const narrow_px = 480;

/**
 * Draws the picture as SVG that prints and takes its colours from the page it is put into.
 * @param axes  "left out" for a picture that is laid under another of the same domains
 */
export function drawPlot(
  spec: PlotSpec,
  width_px: number,
  axes: "drawn" | "left out" = "drawn",
): { svg: SVGSVGElement; frame: PlotFrame } {
  const slim = width_px < narrow_px;
  const figure = library.plot({
    width: width_px,
    height: spec.height_px,
    marginLeft: 52,
    marginRight: slim ? 12 : 24,
    marginTop: 30,
    marginBottom: 42,
    className: "plot-picture",
    ariaLabel: spec.label,
    style: { fontSize: "13px" },
    x: axisScale(spec.x, axes),
    y: axisScale(spec.y, axes),
    marks: [...gathered(spec.marks).flatMap(draw), ...(axes === "drawn" ? allAxes(spec, slim) : [])],
  });
  const svg = figure as unknown as SVGSVGElement;
  // The library puts a style element inside, which the page's policy refuses; plot.css says the same.
  svg.querySelector("style")?.remove();
  svg.setAttribute("role", "img");
  // The picture is read out as a whole; names of its parts would be said in the library's own words.
  for (const part of svg.querySelectorAll("[aria-label]")) part.removeAttribute("aria-label");
  return { svg, frame: frameOf(figure, spec, width_px) };
}

function axisScale({ domain }: PlotAxis, axes: "drawn" | "left out") {
  return { ...(domain && { domain: [...domain] }), label: null, ...(axes === "left out" && { axis: null }) };
}

const allAxes = (spec: PlotSpec, slim: boolean): library.Markish[] => [
  ...axis("x", spec.x, slim ? 5 : 9),
  ...axis("y", spec.y, slim ? 5 : 7),
  library.frame({ anchor: "bottom", strokeWidth: 1.5 }),
  library.frame({ anchor: "left", strokeWidth: 1.5 }),
];

function axis(along: "x" | "y", { label, grid, words }: PlotAxis, count: number): library.Markish[] {
  const where = words
    ? { ticks: words.map(({ at }) => at), tickFormat: (_: unknown, i: number) => words[i]?.text ?? "" }
    : { ticks: count, tickFormat: plainNumber };
  const options = { ...where, label, labelArrow: "none" as const, tickSize: 5 };
  const lines = { ticks: count, stroke: colour("faint"), strokeOpacity: 0.35 };
  return along === "x"
    ? [...(grid === false ? [] : [library.gridX(lines)]), library.axisX({ ...options, labelAnchor: "right" })]
    : [...(grid === false ? [] : [library.gridY(lines)]), library.axisY({ ...options, labelAnchor: "top" })];
}

/** Numbers as in the rest of the page: a point, a true minus, no thousands' separator. */
function plainNumber(value: number): string {
  return String(Number(value.toPrecision(6))).replace("-", "−");
}

type Words = Extract<PlotMark, { kind: "words" }>;
type Gathered = Exclude<PlotMark, Words> | { readonly kind: "texts"; readonly of: readonly Words[] };

/** Words of one tone become one mark of the library: a mark costs it far more than a word does. */
function gathered(marks: readonly PlotMark[]): Gathered[] {
  const texts = new Map<string, Words[]>();
  const others: Exclude<PlotMark, Words>[] = [];
  for (const mark of marks) {
    if (mark.kind !== "words") others.push(mark);
    else {
      const key = `${mark.tone} ${mark.anchor} ${mark.text.startsWith(" ")}`;
      texts.set(key, [...(texts.get(key) ?? []), mark]);
    }
  }
  return [...others, ...[...texts.values()].map((of) => ({ kind: "texts", of }) as const)];
}

function draw(mark: Gathered): library.Markish[] {
  switch (mark.kind) {
    case "line":
      return [library.lineY(mark.y, { x: mark.x, y: mark.y, ...line(mark.tone), clip: true })];
    case "band":
      return [
        library.areaY(mark.x, {
          x: mark.x,
          y1: mark.low,
          y2: mark.high,
          fill: colour(mark.tone),
          fillOpacity: 0.18,
          clip: true,
        }),
      ];
    case "points":
      return [points(mark)];
    case "intervals":
      return [library.ruleX(mark.x, { x: mark.x, y1: mark.low, y2: mark.high, ...line(mark.tone) })];
    case "bars":
      return [
        library.rectY(mark.x, {
          x1: Array.from(mark.x, (x) => x - mark.width / 2),
          x2: Array.from(mark.x, (x) => x + mark.width / 2),
          y1: 0,
          y2: mark.y,
          fill: colour(mark.tone),
        }),
      ];
    case "upright":
      return [
        library.ruleX([mark.x], { ...line(mark.tone), clip: true }),
        ...(mark.text ? [words([mark.x], undefined, mark.text, mark.tone, "top")] : []),
      ];
    case "level":
      return [
        library.ruleY([mark.y], { ...line(mark.tone), clip: true }),
        ...(mark.text ? [words(undefined, [mark.y], mark.text, mark.tone, "right")] : []),
      ];
    case "region":
      return [region(mark)];
    case "texts":
      return [texts(mark.of)];
    case "contours":
      return contours(mark);
  }
}

const line = (tone: Tone) => ({
  stroke: colour(tone),
  strokeWidth: strokes[tone].width,
  ...(strokes[tone].dash && { strokeDasharray: strokes[tone].dash }),
});

const halo = (tone: Tone) => ({
  fill: colour(tone),
  stroke: "var(--plot-ground)",
  strokeWidth: 4,
  fontWeight: 600,
});

function texts(of: readonly Words[]): library.Markish {
  const { tone, anchor, text } = of[0]!;
  return library.text(
    of.map((one) => one.text.trim()),
    {
      // Leading blanks keep the words off the point they belong to.
      dx: text.startsWith(" ") ? 9 : 0,
      x: of.map(({ x }) => x),
      y: of.map(({ y }) => y),
      textAnchor: anchor ?? "middle",
      ...halo(tone),
    },
  );
}

function points(mark: Extract<PlotMark, { kind: "points" }>): library.Markish {
  const { symbol, open, width } = strokes[mark.tone];
  return library.dot(mark.x, {
    x: mark.x,
    y: mark.y,
    r: 5,
    symbol,
    stroke: open ? colour(mark.tone) : "var(--plot-ground)",
    strokeWidth: open ? width : 1,
    fill: open ? "var(--plot-ground)" : colour(mark.tone),
    ...(mark.titles && { title: [...mark.titles] }),
  });
}

function words(
  x: number[] | undefined,
  y: number[] | undefined,
  text: string,
  tone: Tone,
  frameAnchor: "top" | "right",
): library.Markish {
  const anchored =
    frameAnchor === "top"
      ? { dy: -9, textAnchor: "middle" as const }
      : { dy: -8, dx: -4, textAnchor: "end" as const };
  return library.text([text], { ...(x && { x }), ...(y && { y }), frameAnchor, ...anchored, ...halo(tone) });
}

function region(mark: Extract<PlotMark, { kind: "region" }>): library.Markish {
  return library.rect([0], {
    ...(mark.x && { x1: [mark.x[0]], x2: [mark.x[1]] }),
    ...(mark.y && { y1: [mark.y[0]], y2: [mark.y[1]] }),
    fill: colour(mark.tone),
    fillOpacity: 0.16,
    clip: true,
  });
}

/** Each level is laid over the ones below it, so the ground deepens with height and no colour scale is needed. */
function contours(mark: ContourMark): library.Markish[] {
  const half = {
    x: (mark.x[1] - mark.x[0]) / (mark.columns - 1) / 2,
    y: (mark.y[1] - mark.y[0]) / (mark.rows - 1) / 2,
  };
  const grid = {
    value: library.identity,
    width: mark.columns,
    height: mark.rows,
    // The library takes each value to stand in the middle of its cell.
    x1: mark.x[0] - half.x,
    x2: mark.x[1] + half.x,
    y1: mark.y[0] - half.y,
    y2: mark.y[1] + half.y,
    interpolate: null as never,
    thresholds: [...mark.levels],
    fill: "var(--tone-map)",
    fillOpacity: Math.min(0.16, 0.9 / Math.max(1, mark.levels.length)),
    stroke: colour("faint"),
    strokeWidth: 1,
    clip: true,
  };
  return [library.contour(mark.values as never, grid as never)];
}

function frameOf(figure: library.Plot, spec: PlotSpec, width_px: number): PlotFrame {
  const x = scaleOf(figure, "x");
  const y = scaleOf(figure, "y");
  const [left_px, right_px] = [x.toPixel(x.domain[0]), x.toPixel(x.domain[1])];
  const [bottom_px, top_px] = [y.toPixel(y.domain[0]), y.toPixel(y.domain[1])];
  return { width_px, height_px: spec.height_px, left_px, right_px, top_px, bottom_px, x, y };
}

function scaleOf(figure: library.Plot, name: "x" | "y"): PlotScale {
  const scale = figure.scale(name);
  if (scale?.invert === undefined || scale.domain === undefined) {
    throw new Error(`the picture has no ${name} axis: give it a domain or a mark with numbers`);
  }
  const [low, high] = scale.domain as [number, number];
  return { toPixel: (value) => scale.apply(value), toValue: (px) => scale.invert?.(px), domain: [low, high] };
}
