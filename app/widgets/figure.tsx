/** One number set large, with its unit and what must be known to read it; stands in a `dl` of class `figures`. */
export function Figure(props: {
  readonly name: string;
  readonly value: string;
  readonly unit: string;
  readonly notes: readonly string[];
}) {
  return (
    <div>
      <dt>{props.name}</dt>
      <dd class="figure-value">
        {props.value} <small>{props.unit}</small>
      </dd>
      {props.notes.map((note) => (
        <dd key={note}>{note}</dd>
      ))}
    </div>
  );
}
