import { expect, test } from "vitest";
import { createCamera } from "../../../app/device/camera.ts";

const refusing = (name: string) =>
  ({ getUserMedia: () => Promise.reject(new DOMException("no", name)) }) as unknown as MediaDevices;

const codeWith = async (devices: MediaDevices | undefined) => {
  const opened = await createCamera(devices).open();
  return opened.ok ? "open" : opened.issues.map(({ code }) => code).join();
};

test("each way in which a browser keeps its camera back has its own issue", async () => {
  expect(await codeWith(refusing("NotAllowedError"))).toBe("camera-refused");
  expect(await codeWith(refusing("NotFoundError"))).toBe("camera-absent");
  expect(await codeWith(refusing("OverconstrainedError"))).toBe("camera-absent");
  expect(await codeWith(refusing("NotReadableError"))).toBe("camera-busy");
  expect(await codeWith(refusing("SomethingNew"))).toBe("camera-busy");
  expect(await codeWith(undefined)).toBe("camera-not-offered");
});

test("closing a camera stops its tracks, and the chosen one is asked for by its id", async () => {
  const track = Object.assign(new EventTarget(), { stopped: false, stop: () => (track.stopped = true) });
  const asked: unknown[] = [];
  const devices = {
    getUserMedia: async (wish: unknown) => {
      asked.push(wish);
      return { getTracks: () => [track] };
    },
  } as unknown as MediaDevices;
  const opened = await createCamera(devices).open("left");
  if (!opened.ok) throw new Error("it was refused");
  expect(asked).toEqual([{ audio: false, video: { deviceId: { exact: "left" }, width: { ideal: 1280 } } }]);
  opened.value.close();
  expect(track.stopped).toBe(true);
  track.dispatchEvent(new Event("ended"));
  await opened.value.ended;
});

test("cameras without a name are counted; before permission none can be told apart, so none is listed", async () => {
  const devices = {
    enumerateDevices: async () => [
      { kind: "videoinput", deviceId: "", label: "" },
      { kind: "audioinput", deviceId: "m", label: "microphone" },
      { kind: "videoinput", deviceId: "a", label: "built in" },
      { kind: "videoinput", deviceId: "b", label: "" },
    ],
  } as unknown as MediaDevices;
  expect(await createCamera(devices).list()).toEqual([
    { id: "a", name: "built in" },
    { id: "b", name: "camera 2" },
  ]);
  expect(await createCamera(undefined).list()).toEqual([]);
});
