import { failed, type Issue, issue, ok, type Result } from "../result.ts";
import { type ChannelSetup, readChannels } from "./setup-channels.ts";
import { type Assumed, type Fields, isList, isObject, readChoice, readNumbers } from "./setup-fields.ts";
import { recordNumbers, shotNumbers } from "./setup-keys.ts";
import { contradictionCodes, readShot, type ShotSetup, shotChoices } from "./setup-shot.ts";

export type Setup = ShotSetup & {
  /** Absent: not given; the force file's own headers then decide. */
  readonly channels?: readonly ChannelSetup[];
  readonly sampleRate_Hz?: number;
  /** Channels calibrated against the same mass share their error. */
  readonly calibratedTogether: boolean;
  /** One whole set of conditions for each event in the file, in order of time. */
  readonly events?: readonly ShotSetup[];
};

const recordChoices = ["channels", "calibratedTogether", "events"] as const;
const shotKeys: readonly string[] = [...Object.keys(shotNumbers), ...shotChoices];
const recordKeys: readonly string[] = [...Object.keys(recordNumbers), ...recordChoices];

/**
 * Reads S.json, the conditions of a shot and of its record, as docs/formats.md lays it down.
 * @param json  what JSON.parse gave
 * @param verb  decides which defaults count as used: "predict" assumes nothing about channels
 * @returns the setup, and under `assumed` each default that was used, by its key
 * @fails setup-not-an-object, key-unknown, key-missing, wrong-type, out-of-range, list-empty,
 *   water-exceeds-bottle, opening-exceeds-bottle, neck-exceeds-bottle, channel-repeated: all that
 *   apply, at once
 */
export function parseSetup(
  json: unknown,
  verb: "predict" | "reduce",
): Result<{ setup: Setup; assumed: Assumed }> {
  if (!isObject(json)) {
    const remedy = "write one object { … } with the keys of S.json";
    return failed(issue("setup-not-an-object", "setup", "the setup is not a JSON object", remedy));
  }
  const issues: Issue[] = [];
  const assumed: Assumed = {};
  const shot = readShot(json, "", verb, recordKeys, assumed, issues);
  const numbers = readNumbers(json, "", recordNumbers, [...recordChoices, ...Object.keys(json)], issues);
  const together = readChoice(json["calibratedTogether"], "calibratedTogether", [true, false], issues);
  const channels = json["channels"] === undefined ? undefined : readChannels(json["channels"], issues);
  const events = json["events"] === undefined ? undefined : readEvents(json["events"], json, verb, issues);
  if (shot === undefined || issues.length > 0) return failed(...issues);

  if (verb === "reduce") {
    if (together === undefined) assumed["calibratedTogether"] = true;
    if (channels?.assumed.some((one) => Object.keys(one).length > 0)) assumed["channels"] = channels.assumed;
  }
  const sampleRate_Hz = numbers.get("sampleRate_Hz");
  const setup: Setup = {
    ...shot,
    ...(channels && { channels: channels.channels }),
    ...(sampleRate_Hz !== undefined && { sampleRate_Hz }),
    calibratedTogether: together ?? true,
    ...(events && { events }),
  };
  return ok({ setup, assumed });
}

/** Events inherit the file's conditions; what an event states itself comes first. */
function readEvents(
  json: unknown,
  file: Fields,
  verb: "predict" | "reduce",
  issues: Issue[],
): readonly ShotSetup[] | undefined {
  if (!isList(json, "events", issues)) return undefined;
  const shots: ShotSetup[] = [];
  for (const [i, own] of json.entries()) {
    if (!isObject(own)) {
      const remedy = "give an object with the keys that differ for this event, or {}";
      issues.push(issue("wrong-type", `events[${i}]`, `found ${JSON.stringify(own)}`, remedy));
      continue;
    }
    const inherited: Record<string, unknown> = {};
    for (const key of shotKeys) if (file[key] !== undefined) inherited[key] = file[key];
    // A density inherited from the file would silently win over a temperature this event states.
    if (own["waterTemperature_C"] !== undefined) delete inherited["waterDensity_kg_m3"];
    const found: Issue[] = [];
    const shot = readShot({ ...inherited, ...own }, `events[${i}].`, verb, [], {}, found);
    // What is wrong with an inherited value was already said, at its own place.
    const ownPlaces = Object.keys(own).map((key) => `events[${i}].${key}`);
    const saidBefore = new Set(issues.map(({ code }) => code));
    issues.push(
      ...found.filter(
        ({ code, where }) =>
          ownPlaces.includes(where) || (contradictionCodes.has(code) && !saidBefore.has(code)),
      ),
    );
    if (shot !== undefined) shots.push(shot);
  }
  return shots;
}
