import { failed, issue, ok, type Result } from "../../core/result.ts";
import type { Camera, OpenCamera } from "../ports.ts";

/** Enough for the finest code that fills half the picture; more only costs time to look through. */
const WIDTH_PX = 1280;

const REASONS: Readonly<Record<string, readonly [code: string, detail: string, remedy: string]>> = {
  NotAllowedError: [
    "camera-refused",
    "this page may not use the camera",
    "Allow the camera for this page in the browser's address bar, then try again.",
  ],
  NotFoundError: ["camera-absent", "no camera was found", "Plug one in, then try again."],
  OverconstrainedError: ["camera-absent", "that camera is gone", "Choose another one."],
  NotReadableError: [
    "camera-busy",
    "the camera is there and gives no picture: another program may hold it",
    "Close what uses the camera, then try again.",
  ],
};

const noCamera = (fault: unknown): Result<never> => {
  const name = fault instanceof DOMException ? fault.name : "";
  const unforeseen = ["camera-busy", String(fault), "Try again."] as const;
  const [code, detail, remedy] = REASONS[name] ?? unforeseen;
  return failed(issue(code, "the camera", detail, remedy));
};

const opened = (stream: MediaStream): OpenCamera => {
  const tracks = stream.getTracks();
  return {
    stream,
    ended: new Promise((resolve) => {
      for (const track of tracks) track.addEventListener("ended", () => resolve());
    }),
    close: () => {
      for (const track of tracks) track.stop();
    },
  };
};

/**
 * The device's cameras, asked for when a person wants one and never before.
 * @param first  the one that is opened where none is chosen: a phone looks with the one behind it
 */
export const createCamera = (devices: MediaDevices | undefined, first: "any" | "behind" = "any"): Camera => ({
  open: async (id) => {
    // Absent on a page that came over plain http.
    if (!devices) {
      const detail = "the browser offers no camera to this page";
      return failed(
        issue(
          "camera-not-offered",
          "the camera",
          detail,
          "Open the page by https, or on this device itself.",
        ),
      );
    }
    const usual = first === "behind" ? { facingMode: { ideal: "environment" } } : {};
    const which = id === undefined ? usual : { deviceId: { exact: id } };
    try {
      return ok(
        opened(await devices.getUserMedia({ audio: false, video: { ...which, width: { ideal: WIDTH_PX } } })),
      );
    } catch (fault) {
      return noCamera(fault);
    }
  },
  list: async () => {
    const all = (await devices?.enumerateDevices().catch(() => [])) ?? [];
    return all
      .filter(({ kind, deviceId }) => kind === "videoinput" && deviceId !== "")
      .map(({ deviceId, label }, i) => ({ id: deviceId, name: label || `camera ${i + 1}` }));
  },
});
