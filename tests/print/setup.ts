import {
  channelNumbers,
  type NumberKey,
  recordNumbers,
  shotNumbers,
} from "../../core/exchange/setup-keys.ts";
import { code, table } from "./page.ts";

/** What stands for a number that is left out, where that is no number of the table. */
const WITHOUT: Readonly<Record<string, string>> = {
  bottleDiameter_m: "head of water and area ratio are not used",
  neckLength_m: "no neck",
  neckDiameter_m: "the opening's",
  waterDensity_kg_m3: "from `waterTemperature_C`",
  polytropicExponent: "`predict`: from `airTemperature_C`; `reduce`: fitted where the record allows",
  ridingMass_kg: "no `throw`",
  sampleRate_Hz: "the time column; else a leading line that states it",
  dischargeTime_s: '`"fit"`',
};

const leftOut = (key: string, { required, default: value }: NumberKey): string =>
  required ? "must be given" : value === undefined ? (WITHOUT[key] ?? "–") : String(value);

const numberTable = (numbers: Readonly<Record<string, NumberKey>>): string =>
  table(
    ["key", "what", "from", "to", "left out"],
    Object.entries(numbers).map(([key, rule]) => [
      code(key),
      rule.what,
      String(rule.least),
      String(rule.greatest),
      leftOut(key, rule),
    ]),
  );

export const setupTable = (): string => numberTable({ ...shotNumbers, ...recordNumbers });
export const setupChannelTable = (): string => numberTable(channelNumbers);
