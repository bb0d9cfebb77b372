import { useState } from "preact/hooks";
import type { PlannedMatrix } from "../../core/plan/matrix-file.ts";
import type { Result } from "../../core/result.ts";
import { FileButton } from "../widgets/file-button.tsx";
import { Notice } from "./notice.tsx";

export type BringPlanProps = {
  /** Keeps the matrix that this text is, or says why not. */
  readonly keepPlan: (text: string) => Promise<Result<PlannedMatrix>>;
  /** Where the camera reads a plan off a laptop's screen. */
  readonly readCodeAddress: string;
  readonly onKept: () => void;
};

/** Far more than any plan weighs: what is larger is read no further. */
const FILE_BYTES = 100_000;

/** A test matrix that was planned on a laptop, as a file or off its screen: no network either way. */
export function BringPlan({ keepPlan, readCodeAddress, onKept }: BringPlanProps) {
  const [told, setTold] = useState<Result<PlannedMatrix>>();
  const take = async (file: File | undefined) => {
    if (!file) return;
    const kept = await keepPlan(await file.slice(0, FILE_BYTES).text());
    setTold(kept);
    if (kept.ok) onKept();
  };
  return (
    <section aria-labelledby="bring-plan">
      <h2 id="bring-plan">Bring in a plan</h2>
      <p>A test matrix from Plan on the laptop: its file, or its code off the laptop's screen.</p>
      {told && !told.ok && <Notice issues={told.issues} />}
      <p role="status">
        {told?.ok && `Kept: ${told.value.matrix.slots.length} shots for the stand "${told.value.rig}".`}
      </p>
      <div class="bring-plan">
        <FileButton onFiles={(files) => void take(files[0])}>Choose its file</FileButton>
        <a class="button" href={readCodeAddress}>
          Read its code
        </a>
      </div>
    </section>
  );
}
