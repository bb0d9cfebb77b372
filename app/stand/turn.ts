import type { Throw } from "../../core/propulsion/throw.ts";
import type { SequenceEvent, Stamp } from "../../core/sequence/vocabulary.ts";
import type { RunView, SendOutcome } from "../session/live-run.ts";

/** What a screen needs: what is so, the time, and a way to say something. */
export type Turn = {
  readonly view: RunView;
  readonly now: Stamp & { readonly by: string };
  /** The time at this instant, for what is drawn between two renderings. */
  readonly clock: () => Stamp;
  /** `input` is the tap itself: the entry bears its time. `by` where not the holder of the phone speaks. */
  readonly say: (event: SequenceEvent, input?: Event, by?: string) => Promise<SendOutcome>;
  readonly show: (panel: Panel | undefined) => void;
  /** Which page of the screen this is; "" the first. Part of the screen's name, so that taps and focus follow. */
  readonly page: string;
  readonly turnTo: (page: string) => void;
  /** All of it does not fit this phone: what is read comes first, what is answered on a second page. */
  readonly paged: boolean;
  /** What the rig would do with every restraint open, once it is worked out. */
  readonly estimate: Throw | undefined;
};

/** Laid over the content of the screen, never over hold and make safe. */
export type Panel =
  | { readonly kind: "reports" }
  | { readonly kind: "more" }
  | { readonly kind: "unsaved" }
  | { readonly kind: "log" }
  | { readonly kind: "crew" }
  | { readonly kind: "clear-hold" }
  | { readonly kind: "back"; readonly scrub: boolean }
  | { readonly kind: "skip"; readonly step: string }
  | { readonly kind: "report"; readonly form: ReportForm }
  | { readonly kind: "notice"; readonly title: string; readonly lines: readonly NoticeLine[] };

export type ReportForm = "gauge" | "note" | "tag" | "staff" | "correct" | "unresolved" | "agreed";
export type NoticeLine = { readonly what: string; readonly todo?: string };
