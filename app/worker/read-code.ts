import { decodeQR } from "qr/decode.js";
import type { Picture } from "../ports.ts";

/** What the code worker can be asked. */
export type CodeTasks = {
  readonly read: { readonly takes: Picture; readonly gives: Uint8Array | undefined };
};

/** Retries that a picture is worth; the next one comes soon, and is as likely to be sharp. */
const RETRIES_MS = 30;

/** One sign for one byte, so that bytes pass through a reader that gives text. */
const byteForByte = (bytes: Uint8Array): string => String.fromCharCode(...bytes);

/** The bytes of the code that the picture shows; undefined where none can be read. */
export const readCode = (picture: Picture): Uint8Array | undefined => {
  try {
    const text = decodeQR(picture, { format: "RGBA", textDecoder: byteForByte, timeLimit: RETRIES_MS });
    return Uint8Array.from(text, (sign) => sign.charCodeAt(0));
  } catch {
    return undefined; // it throws wherever there is no code, which most pictures are
  }
};
