import { expect, test } from "vitest";
import { channelsInUse, recorderSignature, withChannel, withRole } from "../../../app/bench/file-settings.ts";
import { readPreset, writePreset } from "../../../app/bench/presets.ts";
import { HERON } from "../../../app/demo/documents.ts";
import type { ForceReading, Preferences } from "../../../app/ports.ts";
import { forceTasks } from "../../../app/worker/force-tasks.ts";

const readingOf = async (text: string): Promise<ForceReading> => {
  const read = await forceTasks().read(
    { source: { digest: text, bytes: new Blob([text]) }, options: {} },
    () => {},
  );
  if (!read.ok) throw new Error(JSON.stringify(read.issues));
  return read.value;
};
const rows = (cells: number) =>
  Array.from({ length: 40 }, (_, i) => [i / 1000, ...Array(cells).fill(Math.sin(i))].join(",")).join("\n");
const herons = await readingOf(`time_s,north_N,south_N\n${rows(2)}\n`);
const foreign = await readingOf(`time_s,left_N,right_N,trigger_V\n${rows(3)}\n`);

test("the rig's channels are used where the file has their columns, with the rig's discharge times", () => {
  const channels = channelsInUse(herons, {}, HERON.rig);
  expect(channels.map(({ column, dischargeTime_s }) => [column, dischargeTime_s])).toEqual([
    ["north_N", 12],
    ["south_N", 12],
  ]);
});

test("another recorder's file speaks for itself, discharge to be fitted", () => {
  const channels = channelsInUse(foreign, {}, HERON.rig);
  expect(channels.map(({ column }) => column).slice(0, 2)).toEqual([2, 3]);
  expect(channels[0]).toMatchObject({ sign: 1, dischargeTime_s: "fit" });
});

test("one correction fixes all channels as they are shown, and changes the one", () => {
  const channels = channelsInUse(herons, {}, HERON.rig);
  const changed = withChannel({}, channels, herons.headers[2]!, { sign: -1 });
  expect(changed.channels?.map(({ column, sign }) => [column, sign])).toEqual([
    ["north_N", 1],
    ["south_N", -1],
  ]);
});

test("a column that is no force loses its channel, one that becomes a force gains one, in the file's order", () => {
  const channels = channelsInUse(herons, {}, HERON.rig);
  const without = withRole({}, herons, channels, 1, "other");
  expect(without.channels?.map(({ column }) => column)).toEqual(["south_N"]);
  const again = withRole(without, herons, without.channels!, 1, "force");
  expect(again.channels?.map(({ column }) => column)).toEqual([2, "south_N"]);
});

test("only one column can be the time", () => {
  const moved = withRole({}, herons, channelsInUse(herons, {}, undefined), 1, "time");
  expect(moved.roles).toEqual(["other", "time", "force"]);
});

test("what was explained once is remembered for files of the same recorder, and for no other", () => {
  const kept = new Map<string, string>();
  const preferences: Preferences = {
    read: (key) => kept.get(key),
    write: (key, value) => kept.set(key, value),
  };
  writePreset(preferences, recorderSignature(foreign), { sampleRate_Hz: 4000 });
  expect(readPreset(preferences, recorderSignature(foreign))).toEqual({ settings: { sampleRate_Hz: 4000 } });
  expect(readPreset(preferences, recorderSignature(herons))).toBeUndefined();
  kept.set(`recorder.${recorderSignature(herons)}`, "{");
  expect(readPreset(preferences, recorderSignature(herons))).toBeUndefined();
});
