/**
 * What the hand and the ear are told beside the screen, never instead of it (SAFETY A41). Silent where
 * the browser does not allow it: iOS has no vibration, sound must be opened by a tap.
 */
export type Sense = "accepted" | "refused" | "tick" | "late";

const BUZZ_ms: Record<Sense, readonly number[]> = {
  accepted: [35],
  refused: [90, 60, 90],
  tick: [15],
  late: [250, 80, 250],
};

type Note = { readonly pitch_Hz: number; readonly at_s: number; readonly length_s: number };
const TONE: Record<Sense, readonly Note[]> = {
  accepted: [{ pitch_Hz: 1320, at_s: 0, length_s: 0.06 }],
  refused: [
    { pitch_Hz: 220, at_s: 0, length_s: 0.14 },
    { pitch_Hz: 185, at_s: 0.18, length_s: 0.2 },
  ],
  tick: [{ pitch_Hz: 880, at_s: 0, length_s: 0.05 }],
  late: [
    { pitch_Hz: 440, at_s: 0, length_s: 0.25 },
    { pitch_Hz: 440, at_s: 0.32, length_s: 0.25 },
  ],
};

let audio: AudioContext | undefined;
let muted = false;

export const isMuted = (): boolean => muted;
export const setMuted = (off: boolean): void => {
  muted = off;
};

/** To be called in a tap: browsers give sound only then. */
export const openSound = (): void => {
  if (typeof AudioContext === "undefined") return;
  audio ??= new AudioContext();
  if (audio.state !== "running") void audio.resume().catch(() => undefined);
};

/** Sound may be off; what the hand feels never is, so that a tap is never answered by the eye alone. */
export const feel = (sense: Sense): void => {
  if ("vibrate" in navigator) navigator.vibrate([...BUZZ_ms[sense]]);
  if (muted || audio?.state !== "running") return;
  for (const { pitch_Hz, at_s, length_s } of TONE[sense]) {
    const voice = audio.createOscillator();
    const volume = audio.createGain();
    voice.type = "square";
    voice.frequency.value = pitch_Hz;
    volume.gain.value = 0.2;
    voice.connect(volume).connect(audio.destination);
    voice.start(audio.currentTime + at_s);
    voice.stop(audio.currentTime + at_s + length_s);
  }
};
