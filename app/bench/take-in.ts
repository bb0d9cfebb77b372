/** Something that was dropped, chosen or pasted. */
export type Incoming = { readonly name: string; readonly bytes: Blob; readonly written_ms?: number };

export type Kind = "run" | "force";

/** A run file is JSON from its first sign on; everything else is read as a force file, which explains itself if it is none. */
export async function kindOf({ bytes }: Incoming): Promise<Kind> {
  const head = await bytes.slice(0, headBytes).text();
  return head.trimStart().startsWith("{") ? "run" : "force";
}

const headBytes = 64;

/** What lies in a drop: folders are not opened, and texts count as files. */
export function incomingOf(transfer: DataTransfer): readonly Incoming[] {
  const files = [...transfer.files].map(incomingFile);
  if (files.length > 0) return files;
  const text = transfer.getData("text/plain");
  return text === "" ? [] : [pasted(text)];
}

export const incomingFile = (file: File): Incoming => ({
  name: file.name,
  bytes: file,
  written_ms: file.lastModified,
});

export const pasted = (text: string): Incoming => ({ name: "pasted text", bytes: new Blob([text]) });
