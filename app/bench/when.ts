/** Wall times as the reader's own calendar has them; for readers only, nothing is ordered by them. */
export const dayText = (at_ms: number): string =>
  new Intl.DateTimeFormat(undefined, {
    weekday: "short",
    day: "numeric",
    month: "short",
    year: "numeric",
  }).format(at_ms);

export const timeText = (at_ms: number): string =>
  new Intl.DateTimeFormat(undefined, { hour: "2-digit", minute: "2-digit", hourCycle: "h23" }).format(at_ms);
