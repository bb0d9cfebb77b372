import type { Setup } from "../exchange/setup.ts";
import type { ChannelSetup } from "../exchange/setup-channels.ts";
import type { Assumed } from "../exchange/setup-fields.ts";
import { failed, type Issue, issue, ok, type Result } from "../result.ts";
import { type Unit, unitNamed } from "../units/units.ts";
import type { ColumnHeader, Role } from "./columns.ts";
import type { ForceFile } from "./force-file.ts";
import { sensitivityIn } from "./header-cell.ts";

/** One force channel of the record: which column, and what turns its numbers into newtons upward. */
export type ChannelPlan = {
  readonly header: ColumnHeader;
  readonly column: Float64Array;
  /** Newtons upward in one of the column's units; the sign is in it. */
  readonly toNewton: number;
  readonly setup: ChannelSetup;
};

/**
 * Finds the channels' columns: those that the setup names, or every column that looks like a force.
 * @param roles  the file's, or as a person corrected them
 * @fails column-missing, column-ambiguous, column-not-numbers, channel-repeated, sum-counted-twice,
 *   unit-unknown, unit-not-force, sensitivity-unknown, no-force-column: all that apply
 */
export function findChannels(
  file: ForceFile,
  roles: readonly Role[],
  setup: Setup,
): Result<{ channels: readonly ChannelPlan[]; assumed: Assumed }> {
  const issues: Issue[] = [];
  const assumed: Assumed = {};
  const wanted = setup.channels ?? guessedChannels(file, roles, assumed);
  if (wanted.length === 0) {
    issues.push(
      issue(
        "no-force-column",
        `line ${file.layout.firstRowLine}`,
        `none of ${file.headers.map((h) => `"${h.name}"`).join(", ")} looks like a force`,
        "name the force columns under channels",
      ),
    );
  }
  const channels: ChannelPlan[] = [];
  for (const [i, channel] of wanted.entries()) {
    const where = setup.channels === undefined ? `column ${channel.column}` : `channels[${i}].column`;
    const plan = planChannel(file, roles, channel, where, channels, issues);
    if (plan !== undefined) channels.push(plan);
  }
  const sum = channels.find((c) => roles[c.header.number - 1] === "sum");
  if (sum !== undefined && channels.length > 1) {
    issues.push(
      issue(
        "sum-counted-twice",
        `column ${sum.header.number}`,
        `"${sum.header.name}" is the sum of the other columns`,
        "name the single channels or their sum, not both",
      ),
    );
  }
  return issues.length > 0 ? failed(...issues) : ok({ channels, assumed });
}

/** Column and factor of one wanted channel; undefined where either is refused, and `issues` says why. */
function planChannel(
  file: ForceFile,
  roles: readonly Role[],
  channel: ChannelSetup,
  where: string,
  others: readonly ChannelPlan[],
  issues: Issue[],
): ChannelPlan | undefined {
  const header = matchColumn(file.headers, channel.column, where, issues);
  if (header === undefined) return undefined;
  if (others.some((other) => other.header === header)) {
    issues.push(
      issue("channel-repeated", where, `column ${header.number} is named twice`, "name each column once"),
    );
    return undefined;
  }
  if (roles[header.number - 1] === "words") {
    issues.push(
      issue(
        "column-not-numbers",
        `${where}: column ${header.number}`,
        `"${header.header}" holds words`,
        "name a column of numbers",
      ),
    );
    return undefined;
  }
  const toNewton = newtons(channel, header, where, file.layout.firstRowLine, issues);
  if (toNewton === undefined) return undefined;
  const column = file.columns[header.number - 1]!;
  return { header, column, toNewton: toNewton * channel.sign, setup: channel };
}

function guessedChannels(file: ForceFile, roles: readonly Role[], assumed: Assumed): ChannelSetup[] {
  const forces = file.headers.filter((header) => roles[header.number - 1] === "force");
  const chosen =
    forces.length > 0
      ? forces
      : file.headers.filter((header) => roles[header.number - 1] === "sum").slice(0, 1);
  const channels = chosen.map((header) => ({
    column: header.number,
    sign: 1 as const,
    dischargeTime_s: "fit" as const,
    dischargeTimeRelU: 0.005,
    sensitivityRelU: 0.01,
  }));
  assumed["channels"] = channels;
  return channels;
}

const plain = (text: string) => text.toLowerCase().replace(/["']/g, "").replace(/\s+/g, " ").trim();

function matchColumn(
  headers: readonly ColumnHeader[],
  column: string | number,
  where: string,
  issues: Issue[],
): ColumnHeader | undefined {
  if (typeof column === "number") {
    const header = headers[column - 1];
    if (header === undefined) {
      issues.push(
        issue(
          "column-missing",
          where,
          `the file has ${headers.length} columns, not ${column}`,
          "count every column from 1, the time too",
        ),
      );
    }
    return header;
  }
  const wanted = plain(column);
  const tests: ((header: ColumnHeader) => boolean)[] = [
    (h) => plain(h.header) === wanted,
    (h) => plain(h.name) === wanted,
    (h) =>
      h.unit !== undefined &&
      [`_${h.unit.symbol}`, ` ${h.unit.symbol}`, ` (${h.unit.symbol})`, ` [${h.unit.symbol}]`].some(
        (u) => plain(h.name + u) === wanted,
      ),
    // Other things may stand before or behind the name in its cell.
    (h) =>
      ` ${plain(h.header).replace(/[^\p{L}\p{N}_]+/gu, " ")} `.includes(
        ` ${wanted.replace(/[^\p{L}\p{N}_]+/gu, " ").trim()} `,
      ),
  ];
  for (const test of tests) {
    const found = headers.filter(test);
    if (found.length === 1) return found[0];
    if (found.length > 1) {
      issues.push(
        issue(
          "column-ambiguous",
          where,
          `"${column}" fits columns ${found.map((h) => h.number).join(" and ")}`,
          "give the column's number, counting every column from 1",
        ),
      );
      return undefined;
    }
  }
  issues.push(
    issue(
      "column-missing",
      where,
      `no column is headed "${column}"; the file has ${headers.map((h) => `${h.number} "${h.header || h.name}"`).join(", ")}`,
      "give the header's text or the column's number",
    ),
  );
  return undefined;
}

/** The setup's unit, else the header's; a charge or a voltage needs its sensitivity. */
function newtons(
  channel: ChannelSetup,
  header: ColumnHeader,
  where: string,
  line: number,
  issues: Issue[],
): number | undefined {
  const given = channel.unit === undefined ? undefined : readUnit(channel.unit);
  if (channel.unit !== undefined && given === undefined) {
    issues.push(
      issue(
        "unit-unknown",
        where.replace("column", "unit"),
        `"${channel.unit}" is no unit of force known here`,
        "use N, kN, mN, lbf, kgf, gf, or a sensitivity such as 112.4 mV/N",
      ),
    );
    return undefined;
  }
  const unit: Unit | undefined = given?.unit ?? header.unit;
  const perNewton = given?.perNewton_SI ?? header.sensitivity?.perNewton_SI;
  if (unit === undefined) {
    issues.push(
      issue(
        "unit-unknown",
        `line ${line - 1 > 0 ? line - 1 : 1}, column ${header.number}`,
        `"${header.header || header.name}" names no unit`,
        'state the channel\'s unit, such as "unit": "N"',
      ),
    );
    return undefined;
  }
  if (unit.quantity === "force") return unit.toSI;
  if (unit.quantity !== "voltage" && unit.quantity !== "charge") {
    issues.push(
      issue(
        "unit-not-force",
        `column ${header.number}`,
        `${unit.symbol} is a unit of ${unit.quantity}`,
        unit.quantity === "mass"
          ? `write kgf or gf where the ${unit.symbol} are a force`
          : "name a force column, or state its unit",
      ),
    );
    return undefined;
  }
  if (perNewton === undefined) {
    issues.push(
      issue(
        "sensitivity-unknown",
        `column ${header.number}`,
        `${unit.symbol} without the sensor's sensitivity`,
        `state it as the unit, such as "unit": "112.4 ${unit.symbol}/N"`,
      ),
    );
    return undefined;
  }
  return unit.toSI / perNewton;
}

/** "N", "mV", or "112.4 mV/N", which is both the unit and the sensitivity. */
function readUnit(text: string): { unit: Unit; perNewton_SI?: number } | undefined {
  const sensitivity = sensitivityIn(text);
  if (sensitivity !== undefined) {
    const word = /[A-Za-zµμ]+(?=\s*\/)/.exec(sensitivity.text)?.[0] ?? "";
    const unit = unitNamed(word);
    if (unit !== undefined) return { unit, perNewton_SI: sensitivity.perNewton_SI };
  }
  const unit = unitNamed(text);
  return unit === undefined ? undefined : { unit };
}
