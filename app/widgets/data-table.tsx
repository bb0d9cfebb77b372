import type { ComponentChildren } from "preact";
import { ScrollBox } from "./scroll-box.tsx";

export type TableColumn = string | { readonly name: string; readonly right: true };
export type TableRow = {
  readonly key: string;
  /** The first cell heads the row. */
  readonly cells: readonly ComponentChildren[];
  /** The sum of those above it. */
  readonly total?: boolean;
  /** Stands out: what was measured among what was computed. */
  readonly strong?: boolean;
};

/** A table that scrolls in its own place where the screen is narrow, its rows and columns headed for a reader. */
export function DataTable(props: {
  readonly caption: string;
  readonly captionUnseen?: boolean;
  readonly columns: readonly TableColumn[];
  readonly rows: readonly TableRow[];
}) {
  const columns = props.columns.map((column) => (typeof column === "string" ? { name: column } : column));
  const side = (i: number) => ("right" in columns[i]! ? "right" : undefined);
  return (
    <ScrollBox label={props.caption}>
      <table>
        <caption class={props.captionUnseen ? "unseen" : undefined}>{props.caption}</caption>
        <thead>
          <tr>
            {columns.map(({ name }, i) => (
              <th key={name} scope="col" class={side(i)}>
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {props.rows.map(({ key, cells, total, strong }) => (
            <tr key={key} class={total ? "total" : strong ? "strong" : undefined}>
              {cells.map((cell, i) =>
                i === 0 ? (
                  <th key={columns[i]!.name} scope="row">
                    {cell}
                  </th>
                ) : (
                  <td key={columns[i]!.name} class={side(i)}>
                    {cell}
                  </td>
                ),
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </ScrollBox>
  );
}

/** A column of numbers. */
export const right = (name: string): TableColumn => ({ name, right: true });
