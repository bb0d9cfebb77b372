import type { WrittenDocuments } from "../procedure/rig-numbers.ts";

/**
 * A stand as text: its rig and the procedure that its people wrote, whole. What a team checks on a
 * laptop and hands to the phones; docs/formats.md.
 */
export const standFormat = "fourfast-stand";
export const standVersion = 1;

/** Under which a device keeps it, and hands it out. */
export const standName = (rig: string): string => `stand-${rig}.json`;

/** @param written  as it was written: what it leaves to the rig stays open */
export const standText = ({ rig, written }: WrittenDocuments): string =>
  `${JSON.stringify({ format: standFormat, version: standVersion, rig, procedure: written }, undefined, 1)}\n`;
