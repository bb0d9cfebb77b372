import { useEffect, useRef, useState } from "preact/hooks";
import type { PlannedMatrix } from "../../core/plan/matrix-file.ts";
import type { Issue, Result } from "../../core/result.ts";
import type { Camera, CodeSight } from "../ports.ts";
import { Issues } from "../widgets/issues.tsx";
import { Mirror, NoCamera } from "./mirror.tsx";
import { useCamera } from "./use-camera.ts";
import "./carry.css";

export type ReadPlanProps = {
  readonly camera: Camera;
  readonly sight: CodeSight;
  /** Keeps the matrix that this text is, or says why not. */
  readonly keepPlan: (text: string) => Promise<Result<PlannedMatrix>>;
  readonly home: string;
};

/** On the phone: reads the code that a laptop shows of its plan, and keeps the plan. */
export function ReadPlan({ camera, sight, keepPlan, home }: ReadPlanProps) {
  const [kept, setKept] = useState<PlannedMatrix>();
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => heading.current?.focus(), [kept]);
  return (
    <main class="read-plan">
      <h1 ref={heading} tabIndex={-1}>
        {kept ? "The plan is on this phone" : "Read a plan's code"}
      </h1>
      {kept ? (
        <p>
          {kept.matrix.slots.length} shots for the stand “{kept.rig}”.{kept.synthetic && " SYNTHETIC."}
        </p>
      ) : (
        <Looking {...{ camera, sight, keepPlan }} onKept={setKept} />
      )}
      <a class="button" href={home}>
        {kept ? "To the start page" : "Cancel"}
      </a>
    </main>
  );
}

type LookingProps = Omit<ReadPlanProps, "home"> & { readonly onKept: (kept: PlannedMatrix) => void };

function Looking({ camera, sight, keepPlan, onKept }: LookingProps) {
  const { state, retry } = useCamera(camera);
  const [issues, setIssues] = useState<readonly Issue[]>([]);
  // The same code is seen many times a second: each text is judged once.
  const last = useRef("");
  const take = (bytes: Uint8Array) => {
    const text = new TextDecoder().decode(bytes);
    if (text === last.current) return;
    last.current = text;
    void keepPlan(text).then((plan) => (plan.ok ? onKept(plan.value) : setIssues(plan.issues)));
  };
  if (state.kind === "asking")
    return <p role="status">Waiting for the camera: allow it where the browser asks.</p>;
  if (state.kind === "off")
    return (
      <NoCamera issues={state.issues} retry={retry}>
        Another way: save the plan on the laptop, and choose its file on the start page.
      </NoCamera>
    );
  return (
    <>
      <Mirror camera={state.camera} sight={sight} onCode={take} onBroken={(fault) => setIssues([fault])} />
      <p>
        On the laptop: Plan, Show for the stand. Hold the phone so that the code fills half of the picture.
      </p>
      {issues.length > 0 && (
        <div role="alert">
          <Issues issues={issues} />
        </div>
      )}
    </>
  );
}
