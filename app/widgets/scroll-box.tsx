import type { ComponentChildren } from "preact";

/** A place that scrolls by itself where what is in it is larger: with a pointer, or with the keyboard once it is reached. */
export function ScrollBox(props: {
  readonly label: string;
  readonly class?: string;
  readonly children: ComponentChildren;
}) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: without a stop here the keyboard cannot scroll it
    <section class={`scroll-x ${props.class ?? ""}`.trim()} aria-label={props.label} tabIndex={0}>
      {props.children}
    </section>
  );
}
