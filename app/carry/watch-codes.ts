import type { CodeSight, Picture } from "../ports.ts";

/** More than any code of ours needs, and each pixel costs time. */
const LONGEST_PX = 1280;

const nextPicture = (): Promise<unknown> => new Promise((resolve) => requestAnimationFrame(resolve));

const pictureOf = (video: HTMLVideoElement, canvas: HTMLCanvasElement): Picture | undefined => {
  const scale = Math.min(1, LONGEST_PX / Math.max(video.videoWidth, video.videoHeight, 1));
  const width = Math.round(video.videoWidth * scale);
  const height = Math.round(video.videoHeight * scale);
  if (width === 0 || height === 0) return undefined;
  if (canvas.width !== width) canvas.width = width;
  if (canvas.height !== height) canvas.height = height;
  const pen = canvas.getContext("2d", { willReadFrequently: true });
  if (!pen) return undefined;
  pen.drawImage(video, 0, 0, width, height);
  const { data } = pen.getImageData(0, 0, width, height);
  return { width, height, data: data as Picture["data"] };
};

/**
 * Looks at the video until it is told to stop, one picture at a time: while one is being read the
 * next ones are let go, so that a slow machine falls back in rate and never behind.
 */
export const watchCodes = async (
  video: HTMLVideoElement,
  sight: CodeSight,
  signal: AbortSignal,
  onCode: (bytes: Uint8Array) => void,
): Promise<void> => {
  const canvas = document.createElement("canvas");
  while (!signal.aborted) {
    await nextPicture();
    const picture = signal.aborted ? undefined : pictureOf(video, canvas);
    if (!picture) continue;
    // Stopped: the bridge says so by throwing the signal's reason.
    const bytes = await sight.read(picture, { signal }).catch((fault: unknown) => {
      if (!signal.aborted) throw fault;
      return undefined;
    });
    if (bytes && !signal.aborted) onCode(bytes);
  }
};
