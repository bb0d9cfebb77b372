import type { ComponentChildren } from "preact";

/** What a press is for: only `go` moves a run forward, `hold` and `stop` lead to the safe side. */
export type ButtonLook = "plain" | "go" | "hold" | "stop" | "quiet";

type Props = {
  readonly look?: ButtonLook;
  /** Decides something that cannot be taken back by looking again: the larger size, and the tap guard. */
  readonly critical?: boolean;
  readonly disabled?: boolean;
  readonly label?: string;
  readonly pressed?: boolean;
  readonly onPress: (press: MouseEvent) => void;
  readonly children: ComponentChildren;
};

/** A real button. Disabled ones stay focusable, so that a screen reader can say what is not open yet. */
export function Button({ look = "plain", critical, disabled, label, pressed, onPress, children }: Props) {
  const press = (event: MouseEvent) => {
    if (!disabled) onPress(event);
  };
  return (
    <button
      type="button"
      class={`button ${look}${critical ? " critical" : ""}`}
      data-critical={critical && look !== "hold" && look !== "stop" ? "" : undefined}
      data-safe={look === "hold" || look === "stop" ? "" : undefined}
      aria-disabled={disabled ? "true" : undefined}
      aria-label={label}
      aria-pressed={pressed}
      onClick={press}
    >
      {children}
    </button>
  );
}
