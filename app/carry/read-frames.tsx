import { useEffect, useRef, useState } from "preact/hooks";
import { type Collected, missingFrames } from "../../core/exchange/collect-frames.ts";
import type { Issue } from "../../core/result.ts";
import type { Camera, CodeSight } from "../ports.ts";
import { Issues } from "../widgets/issues.tsx";
import { CARRIED, type Carried } from "./carried.ts";
import { Mirror, NoCamera } from "./mirror.tsx";
import { useCamera } from "./use-camera.ts";
import { type Collecting, useCollect } from "./use-collect.ts";
import "./carry.css";

export type ReadFramesProps = {
  readonly what: Carried;
  readonly camera: Camera;
  readonly sight: CodeSight;
  /** The whole file, as it was on the other device, and the run's code or the stand's id. */
  readonly onText: (text: string, code: string) => void;
  readonly onClose: () => void;
};

/** Reads the codes that another device shows, until what it shows is whole. */
export function ReadFrames({ what, camera, sight, onText, onClose }: ReadFramesProps) {
  const { state, choices, wanted, choose, retry } = useCamera(camera);
  const collecting = useCollect(CARRIED[what].restore, onText);
  const [broken, setBroken] = useState<readonly Issue[]>([]);
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => heading.current?.focus(), []);
  return (
    <section class="read-codes" aria-labelledby="read-codes">
      <h2 id="read-codes" ref={heading} tabIndex={-1}>
        Read codes with the camera
      </h2>
      {state.kind === "on" && (
        <Mirror
          camera={state.camera}
          sight={sight}
          onCode={collecting.take}
          onBroken={(fault) => setBroken([fault])}
        />
      )}
      <div class="read-codes-side">
        {state.kind === "asking" && (
          <p role="status">Waiting for the camera: allow it where the browser asks.</p>
        )}
        {state.kind === "off" && (
          <NoCamera issues={state.issues} retry={retry}>
            {CARRIED[what].otherWays}
          </NoCamera>
        )}
        {state.kind === "on" && (
          <Progress {...collecting} what={what} issues={[...broken, ...collecting.issues]} />
        )}
        {choices.length > 1 && (
          <label>
            Camera{" "}
            <select value={wanted} onChange={(event) => choose(event.currentTarget.value)}>
              {choices.map(({ id, name }) => (
                <option key={id} value={id}>
                  {name}
                </option>
              ))}
            </select>
          </label>
        )}
        <div class="button-row">
          <button type="button" class="button" onClick={onClose}>
            Cancel
          </button>
        </div>
      </div>
    </section>
  );
}

type ProgressProps = Collecting & { readonly what: Carried };

function Progress({ what, collected, verdict, other, issues, startOver }: ProgressProps) {
  if (issues.length > 0)
    return (
      <div role="alert">
        <p>{CARRIED[what].gaveNone}</p>
        <Issues issues={issues} />
        <button type="button" class="button" onClick={startOver}>
          Read again
        </button>
      </div>
    );
  return (
    <>
      {collected ? <FramesIn collected={collected} /> : <HowTo what={what} />}
      <p role="status">
        {collected && `Reading ${collected.code}. `}
        {verdict && (verdict === "other-run" ? CARRIED[what].another : HINTS[verdict])}
      </p>
      {verdict === "other-run" && (
        <button type="button" class="button" onClick={startOver}>
          Read {other} instead
        </button>
      )}
    </>
  );
}

const HINTS: { readonly [verdict in NonNullable<Collecting["verdict"]>]?: string } = {
  recut: "The other device changed the size of its codes: it begins anew.",
  foreign: "That code is none of Fourfast's.",
  newer: "That device has a newer version: update this one, or take the file.",
};

const HowTo = ({ what }: { readonly what: Carried }) => (
  <ol>
    {CARRIED[what].readHow.map((line) => (
      <li key={line}>{line}</li>
    ))}
  </ol>
);

/** As many as a person can be told to look for. */
const NAMED_MISSING = 6;

function FramesIn({ collected }: { readonly collected: Collected }) {
  const { count, parts } = collected;
  const missing = missingFrames(collected);
  const few = missing.length > 0 && missing.length <= NAMED_MISSING;
  return (
    <>
      <p class="number">
        <b>
          {parts.size} of {count}
        </b>{" "}
        codes are in.{few && ` Missing: ${missing.map((index) => index + 1).join(", ")}.`}
      </p>
      <progress value={parts.size} max={count} aria-label="Codes that are in" />
      <ol class="frames-in" aria-hidden="true">
        {Array.from({ length: count }, (_, index) => (
          <li key={index} data-in={parts.has(index)} />
        ))}
      </ol>
    </>
  );
}
