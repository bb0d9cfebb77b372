import type { Issue } from "../../core/result.ts";
import { issueLine } from "../text.ts";

type Props = {
  readonly issues: readonly Issue[];
  /** Says where each is, for those that have places of their own. */
  readonly placed?: boolean;
  readonly class?: string;
};

/** What is wrong and what to do, all of it. */
export const Issues = ({ issues, placed, class: name = "issues" }: Props) => (
  <ul class={name}>
    {issues.map((one) => (
      <li key={`${one.code} ${one.where} ${one.detail}`}>
        {placed && <strong>{one.where}: </strong>}
        {issueLine(one)}
      </li>
    ))}
  </ul>
);
