import { sha256 } from "@noble/hashes/sha2.js";
import { bytesToHex, utf8ToBytes } from "@noble/hashes/utils.js";

/** SHA-256 in hexadecimal, of bytes or of a text's UTF-8. Synchronous, so that core stays a plain function. */
export const digest = (of: Uint8Array | string): string =>
  bytesToHex(sha256(typeof of === "string" ? utf8ToBytes(of) : of));

/** What stands before the first entry. */
export const NOTHING_BEFORE = "0".repeat(64);

/**
 * The short form that is read out and written on paper: the first eight digits in two groups.
 * Enough to show that two copies differ; a forger who may try billions of times is not its match.
 */
export const spokenDigest = (hash: string): string => `${hash.slice(0, 4)} ${hash.slice(4, 8)}`;
