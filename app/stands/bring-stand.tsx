import type { NamedText } from "../../core/exchange/stand-parts.ts";
import { FileButton } from "../widgets/file-button.tsx";

/** Far more than any stand weighs: what is larger is not read. */
const FILE_BYTES = 1_000_000;

type Props = {
  readonly onTexts: (texts: readonly NamedText[]) => void;
  readonly onUnreadable: (name: string) => void;
  readonly onCodes: () => void;
};

/** A stand comes as one file, as its rig's and its procedure's, or off another screen. */
export function BringStand({ onTexts, onUnreadable, onCodes }: Props) {
  const take = async (files: readonly File[]) => {
    const large = files.find(({ size }) => size > FILE_BYTES);
    if (large) return onUnreadable(large.name);
    const texts = await Promise.all(
      files.map(async (file) => ({ name: file.name, text: await file.text() })),
    );
    if (texts.length > 0) onTexts(texts);
  };
  return (
    <section class="sheet no-print" aria-labelledby="bring-stand">
      <h2 id="bring-stand">Bring in a stand</h2>
      <p>
        Its file, its rig and its procedure together, or a new procedure for a stand that is here. It is read
        whole and shown before it is kept.
      </p>
      <div class="button-row">
        <FileButton multiple onFiles={(files) => void take(files)}>
          Choose files
        </FileButton>
        <button type="button" class="button" onClick={onCodes}>
          Read codes
        </button>
      </div>
    </section>
  );
}
