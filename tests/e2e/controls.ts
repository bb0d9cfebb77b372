import type { Page } from "playwright-core";

/** A control as it lies on the screen, in CSS pixels. */
export type Control = {
  readonly name: string;
  readonly kind: "critical" | "other" | "field";
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  /** Its middle is what a finger there would touch. */
  readonly hit: boolean;
};

/** Every control of the stand's page, scrolled-off ones left out unless `all`. */
export const controlsOf = (page: Page): Promise<readonly Control[]> =>
  page.evaluate(() =>
    [...document.querySelectorAll<HTMLElement>(".stand button, .stand input, .stand textarea")].map(
      (element) => {
        const { x, y, width, height } = element.getBoundingClientRect();
        const top = document.elementFromPoint(x + width / 2, y + height / 2);
        const isButton = element.tagName === "BUTTON";
        const isCritical = "critical" in element.dataset || "safe" in element.dataset;
        return {
          name: element.getAttribute("aria-label") ?? element.textContent?.trim() ?? "",
          kind: isButton ? (isCritical ? "critical" : "other") : "field",
          x,
          y,
          width,
          height,
          hit: top !== null && element.contains(top),
        } as const;
      },
    ),
  );

/** Least distance between two boxes; 0 where they touch. */
const gap = (a: Control, b: Control): number =>
  Math.hypot(
    Math.max(0, a.x - (b.x + b.width), b.x - (a.x + a.width)),
    Math.max(0, a.y - (b.y + b.height), b.y - (a.y + a.height)),
  );

export type Least = {
  readonly critical: readonly [width: number, height: number];
  readonly other: readonly [width: number, height: number];
  readonly gap_px: number;
};

/** SAFETY A35 at 360 x 640, and its lower bound at 320 x 568. */
export const AT_360: Least = { critical: [126, 82], other: [82, 56], gap_px: 24 };
export const AT_320: Least = { critical: [96, 72], other: [82, 56], gap_px: 24 };

/** FIELD: nothing that can be touched in the lowest 64 px. */
const STRIP_px = 64;

/** What is wrong with the lie of these controls, in words; empty where nothing is. */
export const faultsOf = (
  controls: readonly Control[],
  screen: { readonly width: number; readonly height: number },
  least: Least,
): readonly string[] => {
  const faults: string[] = [];
  for (const one of controls) {
    const [width, height] = least[one.kind === "critical" ? "critical" : "other"];
    const size = `${Math.round(one.width)} x ${Math.round(one.height)}`;
    if (one.kind !== "field" && (one.width < width - 0.01 || one.height < height - 0.01))
      faults.push(`"${one.name}" is ${size}, less than ${width} x ${height}`);
    const inside = one.x >= 0 && one.y >= 0 && one.x + one.width <= screen.width;
    if (!inside || one.y + one.height > screen.height - STRIP_px + 0.01)
      faults.push(`"${one.name}" leaves the screen above its lowest ${STRIP_px} px`);
    if (!one.hit) faults.push(`"${one.name}" is covered`);
  }
  const buttons = controls.filter(({ kind }) => kind !== "field");
  buttons.forEach((a, i) => {
    for (const b of buttons.slice(i + 1))
      if (gap(a, b) < least.gap_px - 0.01)
        faults.push(`"${a.name}" and "${b.name}" are ${gap(a, b).toFixed(1)} px apart`);
  });
  return faults;
};
