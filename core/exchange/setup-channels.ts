import { type Issue, issue } from "../result.ts";
import { type Assumed, assume, isList, isObject, readChoice, readNumbers } from "./setup-fields.ts";
import { channelNumbers } from "./setup-keys.ts";

export type DischargeTime = number | "fit" | "none";

export type ChannelSetup = {
  /** Header text with or without its unit, or a 1-based number counting every column. */
  readonly column: string | number;
  /** As typed; absent: the header's. */
  readonly unit?: string;
  readonly sign: 1 | -1;
  readonly dischargeTime_s: DischargeTime;
  readonly dischargeTimeRelU: number;
  readonly sensitivityRelU: number;
};

const channelChoices = ["column", "unit", "sign"] as const;

/**
 * Reads the list of force channels.
 * @returns the channels and, in the same order, the defaults each used; undefined where anything was refused
 * @fails wrong-type, list-empty, key-unknown, key-missing, out-of-range, channel-repeated (into `issues`)
 */
export function readChannels(
  json: unknown,
  issues: Issue[],
): { channels: readonly ChannelSetup[]; assumed: readonly Assumed[] } | undefined {
  if (!isList(json, "channels", issues)) return undefined;
  const assumed: Assumed[] = json.map(() => ({}));
  const channels = json.map((entry, i) => readChannel(entry, `channels[${i}]`, assumed[i]!, issues));
  const columns = channels.map((channel) => channel?.column);
  for (const [i, column] of columns.entries()) {
    const first = columns.indexOf(column);
    if (column === undefined || first === i) continue;
    const detail = `${JSON.stringify(column)} is already channels[${first}]`;
    const remedy = "name each column once: its force would be counted twice";
    issues.push(issue("channel-repeated", `channels[${i}].column`, detail, remedy));
  }
  const complete = channels.filter((channel) => channel !== undefined);
  return complete.length === channels.length ? { channels: complete, assumed } : undefined;
}

function readChannel(
  json: unknown,
  path: string,
  assumed: Assumed,
  issues: Issue[],
): ChannelSetup | undefined {
  if (!isObject(json)) {
    const remedy = 'give an object such as {"column": "north_N"}';
    issues.push(issue("wrong-type", path, `found ${JSON.stringify(json)}`, remedy));
    return undefined;
  }
  const before = issues.length;
  const { dischargeTime_s: time, ...rest } = json;
  const word = time === "fit" || time === "none" ? time : undefined;
  const asNumbers = word === undefined && time !== undefined ? json : rest;
  const numbers = readNumbers(asNumbers, `${path}.`, channelNumbers, channelChoices, issues);
  const column = readColumn(json["column"], `${path}.column`, issues);
  const unit = readUnit(json["unit"], `${path}.unit`, issues);
  const sign = readChoice(json["sign"], `${path}.sign`, [1, -1], issues);
  if (column === undefined || issues.length > before) return undefined;
  return {
    column,
    ...(unit !== undefined && { unit }),
    sign: sign ?? assume(assumed, "sign", 1),
    dischargeTime_s: word ?? numbers.get("dischargeTime_s") ?? assume(assumed, "dischargeTime_s", "fit"),
    dischargeTimeRelU: numbers.orDefault("dischargeTimeRelU", assumed),
    sensitivityRelU: numbers.orDefault("sensitivityRelU", assumed),
  };
}

function readColumn(value: unknown, where: string, issues: Issue[]): string | number | undefined {
  if (typeof value === "string" && value.trim() !== "") return value;
  if (typeof value === "number" && Number.isInteger(value) && value >= 1) return value;
  const code = value === undefined ? "key-missing" : "wrong-type";
  const detail = value === undefined ? "no column is named" : `found ${JSON.stringify(value)}`;
  const remedy = "give the header's text, or the column's number counting every column from 1";
  issues.push(issue(code, where, detail, remedy));
  return undefined;
}

function readUnit(value: unknown, where: string, issues: Issue[]): string | undefined {
  if (value === undefined || (typeof value === "string" && value.trim() !== "")) return value;
  issues.push(
    issue("wrong-type", where, `found ${JSON.stringify(value)}`, 'give the unit as text, such as "N"'),
  );
  return undefined;
}
