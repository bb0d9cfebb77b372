import type { ComponentChildren } from "preact";
import { useEffect, useRef } from "preact/hooks";
import { type Issue, issue } from "../../core/result.ts";
import type { CodeSight, OpenCamera } from "../ports.ts";
import { Issues } from "../widgets/issues.tsx";
import { watchCodes } from "./watch-codes.ts";

type MirrorProps = {
  readonly camera: OpenCamera;
  readonly sight: CodeSight;
  readonly onCode: (bytes: Uint8Array) => void;
  readonly onBroken: (fault: Issue) => void;
};

/** What the camera sees, with its codes read out of it as long as it is shown. */
export function Mirror({ camera, sight, onCode, onBroken }: MirrorProps) {
  const video = useRef<HTMLVideoElement>(null);
  const heard = useRef({ onCode, onBroken });
  heard.current = { onCode, onBroken };
  useEffect(() => {
    const shown = video.current;
    if (!shown) return;
    shown.srcObject = camera.stream;
    // Refused only where the element is gone again.
    shown.play().catch(() => undefined);
    const stop = new AbortController();
    watchCodes(shown, sight, stop.signal, (bytes) => heard.current.onCode(bytes)).catch((fault: unknown) =>
      heard.current.onBroken(brokenBy(fault)),
    );
    return () => {
      stop.abort();
      shown.srcObject = null;
    };
  }, [camera, sight]);
  return <video ref={video} muted playsInline aria-label="What the camera sees" />;
}

const brokenBy = (fault: unknown): Issue =>
  issue(
    "code-reader-broken",
    "the reader of codes",
    fault instanceof Error ? fault.message : String(fault),
    "Load the page again, or take it as a file.",
  );

type NoCameraProps = {
  readonly issues: readonly Issue[];
  readonly retry: () => void;
  /** The ways that need none. */
  readonly children: ComponentChildren;
};

export function NoCamera({ issues, retry, children }: NoCameraProps) {
  return (
    <div role="alert">
      <Issues issues={issues} />
      <p>{children}</p>
      <button type="button" class="button" onClick={retry}>
        Try again
      </button>
    </div>
  );
}
