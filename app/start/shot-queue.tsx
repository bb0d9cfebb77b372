import { useEffect, useState } from "preact/hooks";
import type { Shot } from "../../core/plan/documents-for-shot.ts";
import type { WrittenDocuments } from "../../core/procedure/rig-numbers.ts";
import type { Result } from "../../core/result.ts";
import type { MatrixQueue, QueuedShot } from "../session/matrix-queue.ts";
import { Button } from "../widgets/button.tsx";
import { Notice } from "./notice.tsx";

export type ShotQueueProps = {
  readonly documents: WrittenDocuments;
  readonly queue: (documents: WrittenDocuments) => Promise<Result<MatrixQueue | undefined>>;
  readonly cardAddress: (shot: Shot) => string;
  readonly onBegin: (shot: Shot) => void;
};

/** What the stand's test matrix asks for next. Where no matrix is kept there is nothing to see. */
export function ShotQueue({ documents, queue, cardAddress, onBegin }: ShotQueueProps) {
  const [found, setFound] = useState<Result<MatrixQueue | undefined>>();
  useEffect(() => {
    let wanted = true;
    void queue(documents).then((told) => wanted && setFound(told));
    return () => {
      wanted = false;
    };
  }, [documents, queue]);
  if (found === undefined) return null;
  if (!found.ok) return <Notice issues={found.issues} />;
  if (found.value === undefined) return null;
  const { shots, done, blocks, toRun, beside, synthetic } = found.value;
  const [next, ...later] = toRun;
  return (
    <section class="queue" aria-label="Planned shots">
      <p>
        <b>
          Planned: {done} of {shots} run
        </b>
        , {toRun.length} to run.{synthetic && " SYNTHETIC plan."}
        {beside.length > 0 && ` Beside the plan: ${beside.join(", ")}.`}
      </p>
      {next ? (
        <Next shot={next} {...{ shots, blocks, onBegin }} card={cardAddress(next)} />
      ) : (
        <p>Every planned shot is run.</p>
      )}
      {later.length > 0 && (
        <details>
          <summary>{later.length === 1 ? "The last one after it" : `The ${later.length} after it`}</summary>
          <ol class="queue-later">
            {later.map((shot) => (
              <li key={shot.order} value={shot.order}>
                <span>
                  Crew {shot.crew}: {shot.water}, {shot.pressure}
                  {shot.refusal.length > 0 && <strong> Refused</strong>}
                </span>
                <Button
                  label={`Start shot ${shot.order} instead`}
                  disabled={shot.refusal.length > 0}
                  onPress={() => onBegin(shot)}
                >
                  Start instead
                </Button>
              </li>
            ))}
          </ol>
          <p>
            The order was drawn so that what drifts over a day cannot pass for an effect: keep to it if you
            can.
          </p>
        </details>
      )}
    </section>
  );
}

type NextProps = {
  readonly shot: QueuedShot;
  readonly shots: number;
  readonly blocks: number;
  readonly card: string;
  readonly onBegin: (shot: Shot) => void;
};

function Next({ shot, shots, blocks, card, onBegin }: NextProps) {
  const { order, crew, block, water, pressure, refusal } = shot;
  return (
    <>
      <p>
        Next, shot {order} of {shots}: <b>crew {crew}</b>, block {block} of {blocks}
      </p>
      <p class="queue-numbers number">
        <b>{water}</b> at <b>{pressure}</b>
      </p>
      {refusal.length > 0 && <Notice issues={refusal} />}
      <Button look="go" critical disabled={refusal.length > 0} onPress={() => onBegin(shot)}>
        Start this shot
      </Button>
      <p>
        It counts for crew {crew} when the conductor's code begins with {crew}.{" "}
        <a href={card}>Its paper card</a>
      </p>
    </>
  );
}
