import type { ChannelSetup } from "../../core/exchange/setup-channels.ts";
import type { ColumnHeader, Role } from "../../core/force/columns.ts";
import type { Rig } from "../../core/rig/rig.ts";
import type { ForceReading } from "../ports.ts";
import type { FileSettings } from "./bench-record.ts";
import { rigChannels } from "./force-request.ts";

/** As the contract has it, until somebody says otherwise. */
const usual = { sign: 1, dischargeTime_s: "fit", dischargeTimeRelU: 0.005, sensitivityRelU: 0.01 } as const;

/** Channels in use: what a person set, else the joined run's rig, else every column that looks like a force. */
export function channelsInUse(
  reading: ForceReading,
  settings: FileSettings,
  rig: Rig | undefined,
): readonly ChannelSetup[] {
  if (settings.channels) return settings.channels;
  const rigs = rig && rigChannels(rig, reading);
  if (rigs) return rigs;
  const roles = settings.roles ?? reading.roles;
  const forces = reading.headers.filter((_, i) => roles[i] === "force");
  const chosen =
    forces.length > 0 ? forces : reading.headers.filter((_, i) => roles[i] === "sum").slice(0, 1);
  return chosen.map(({ number }) => ({ column: number, ...usual }));
}

export const channelFor = (
  channels: readonly ChannelSetup[],
  header: ColumnHeader,
): ChannelSetup | undefined =>
  channels.find(
    ({ column }) => column === header.number || column === header.header || column === header.name,
  );

/** One channel changed; from then on the settings say which channels there are. */
export function withChannel(
  settings: FileSettings,
  channels: readonly ChannelSetup[],
  header: ColumnHeader,
  part: Partial<ChannelSetup>,
): FileSettings {
  const target = channelFor(channels, header);
  return { ...settings, channels: channels.map((one) => (one === target ? { ...one, ...part } : one)) };
}

/** A column taken for something else: a force gains a channel, what is none any more loses it. */
export function withRole(
  settings: FileSettings,
  reading: ForceReading,
  channels: readonly ChannelSetup[],
  i: number,
  role: Role,
): FileSettings {
  const before = settings.roles ?? reading.roles;
  // Only one column can be the time.
  const roles = before.map((one, k) => (k === i ? role : role === "time" && one === "time" ? "other" : one));
  const header = reading.headers[i]!;
  const kept = channels.filter((one) => {
    const at = reading.headers.findIndex((other) => channelFor([one], other));
    return at >= 0 && at !== i && roles[at] === "force";
  });
  return {
    ...settings,
    roles,
    channels:
      role === "force" ? [...kept, { column: header.number, ...usual }].sort(byColumn(reading)) : kept,
  };
}

const byColumn = (reading: ForceReading) => (a: ChannelSetup, b: ChannelSetup) => {
  const place = (channel: ChannelSetup) =>
    reading.headers.findIndex((header) => channelFor([channel], header));
  return place(a) - place(b);
};

/** Files of one recorder have the same headers between the same marks; that is what a preset is kept under. */
export function recorderSignature({ layout, headers }: ForceReading): string {
  const text = [layout.separator, layout.decimal, ...headers.map(({ header }) => header)].join("");
  let hash = 0x811c9dc5;
  for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
  return (hash >>> 0).toString(16).padStart(8, "0");
}
