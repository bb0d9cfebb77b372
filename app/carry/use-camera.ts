import { useEffect, useState } from "preact/hooks";
import { type Issue, issue } from "../../core/result.ts";
import type { Camera, OpenCamera } from "../ports.ts";

export type CameraState =
  | { readonly kind: "asking" }
  | { readonly kind: "on"; readonly camera: OpenCamera }
  | { readonly kind: "off"; readonly issues: readonly Issue[] };

type Choice = { readonly id: string; readonly name: string };

const LOST = issue(
  "camera-lost",
  "the camera",
  "it was unplugged or taken away",
  "Plug it in, then try again.",
);

/** One camera at a time, on only while this is shown. */
export const useCamera = (camera: Camera) => {
  const [state, setState] = useState<CameraState>({ kind: "asking" });
  const [choices, setChoices] = useState<readonly Choice[]>([]);
  const [wanted, setWanted] = useState<{ readonly id?: string }>({});
  useEffect(() => {
    let over = false;
    let open: OpenCamera | undefined;
    setState({ kind: "asking" });
    void camera.open(wanted.id).then((opened) => {
      if (!opened.ok) {
        if (!over) setState({ kind: "off", issues: opened.issues });
        return;
      }
      open = opened.value;
      // Closed while the browser was still asking: its light must not stay on.
      if (over) return open.close();
      setState({ kind: "on", camera: open });
      void open.ended.then(() => !over && setState({ kind: "off", issues: [LOST] }));
      void camera.list().then((list) => !over && setChoices(list));
    });
    return () => {
      over = true;
      open?.close();
    };
  }, [camera, wanted]);
  return {
    state,
    choices,
    wanted: wanted.id,
    choose: (id: string) => setWanted({ id }),
    retry: () => setWanted({}),
  };
};
