/** What went wrong and what to do, until the next try. */
export function Notice({ lines }: { readonly lines: readonly string[] }) {
  return (
    <ul class="start-notice" role="alert">
      {lines.map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ul>
  );
}
