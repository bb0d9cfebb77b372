import type { ComponentType } from "preact";
import { useEffect, useState } from "preact/hooks";

/**
 * A face that is fetched when it is opened. It is precached, so it needs no network; where the offline copy lacks
 * it, that is said instead of a blank page.
 */
export function Later({ load }: { readonly load: () => Promise<ComponentType> }) {
  const [face, setFace] = useState<{ readonly Face: ComponentType } | "missing">();
  useEffect(() => {
    let wanted = true;
    load().then(
      (Face) => wanted && setFace({ Face }),
      () => wanted && setFace("missing"),
    );
    return () => {
      wanted = false;
    };
  }, [load]);
  if (face === "missing")
    return (
      <main>
        <h1>Not on this device</h1>
        <p>This part of Fourfast could not be loaded. Open it once with a network, then it stays.</p>
      </main>
    );
  return face ? <face.Face /> : <p role="status">Opening…</p>;
}
