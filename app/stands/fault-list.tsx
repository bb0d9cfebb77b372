import { useEffect, useId, useRef } from "preact/hooks";
import type { Issue } from "../../core/result.ts";
import { sentence } from "../text.ts";

type Props = {
  /** Before the number of faults: "Not kept". */
  readonly title: string;
  readonly issues: readonly Issue[];
  /** Left out where the faults stand until they are mended. */
  readonly onClose?: () => void;
};

/** Everything that does not fit, each with its place and what to do: whoever wrote the file mends it in one go. */
export function FaultList({ title, issues, onClose }: Props) {
  const heading = useRef<HTMLHeadingElement>(null);
  const id = useId();
  useEffect(() => {
    if (onClose) heading.current?.focus();
  }, [issues]);
  return (
    <section class="stand-faults" role={onClose ? undefined : "alert"} aria-labelledby={id}>
      <h2 id={id} ref={heading} tabIndex={-1}>
        {title}: {issues.length === 1 ? "one fault" : `${issues.length} faults`}
      </h2>
      <ol>
        {issues.map(({ code, where, detail, remedy }) => (
          <li key={`${code} ${where} ${detail}`}>
            <b>{where}</b>
            <br />
            {sentence(detail)} {sentence(remedy)} <span class="lead">{code}</span>
          </li>
        ))}
      </ol>
      {onClose && (
        <button type="button" class="button" onClick={onClose}>
          Close the list
        </button>
      )}
    </section>
  );
}
