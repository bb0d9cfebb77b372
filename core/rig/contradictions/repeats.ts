import { type Issue, issue } from "../../result.ts";
import { among, type Contradiction } from "./contradiction.ts";

/** Names that must tell things apart and do not. */

const repeats = <T>(
  items: readonly T[],
  nameOf: (item: T) => string,
  where: (at: number) => string,
): readonly Issue[] => {
  const names = items.map(nameOf);
  return names.flatMap((name, at) =>
    names.indexOf(name) === at
      ? []
      : [issue("name-repeated", where(at), `"${name}" is there twice`, "Give each its own.")],
  );
};

const byId = (list: string) => (items: readonly { readonly id: string }[]) =>
  repeats(
    items,
    ({ id }) => id,
    (at) => `${list}[${at}].id`,
  );

/** Marks and names are read aloud: case does not tell them apart. */
const spoken = (text: string): string => text.trim().toLowerCase();

export const repeatContradictions: readonly Contradiction[] = [
  among(["restraints"], ({ restraints }) => [
    ...byId("restraints")(restraints),
    ...repeats(
      restraints,
      ({ mark }) => spoken(mark),
      (at) => `restraints[${at}].mark`,
    ),
  ]),
  among(["gauges"], ({ gauges }) => [
    ...byId("gauges")(gauges),
    ...repeats(
      gauges,
      ({ name }) => spoken(name),
      (at) => `gauges[${at}].name`,
    ),
  ]),
  among(["channels"], ({ channels }) => [
    ...byId("channels")(channels),
    ...repeats(
      channels,
      ({ column }) => column,
      (at) => `channels[${at}].column`,
    ),
  ]),
  among(["places"], ({ places }) => byId("places")(places)),
  among(["parts"], ({ parts }) => byId("parts")(parts)),
  among(["responsible"], ({ responsible }) =>
    repeats(
      responsible,
      (code) => code,
      (at) => `responsible[${at}]`,
    ),
  ),
];
