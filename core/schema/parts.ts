import * as v from "valibot";

/**
 * The few kinds of field that our documents are made of. Ranges are there to catch slips (another
 * unit, a sign, a decimal place); limits for safety are the rig owner's and are judged elsewhere.
 */

type Range = { readonly least: number; readonly greatest: number };

/** Words for people: at least one visible character, no longer than a screen can show. */
export const words = (description: string, longest = 400) =>
  v.pipe(
    v.string(),
    v.regex(/\S/, "some words"),
    v.maxLength(longest, `at most ${longest} characters`),
    v.description(description),
  );

/**
 * A name that other fields, keys and log entries refer to. "constructor" is refused because it is
 * the one plain word that every object already has as a key.
 */
export const name = (description: string) =>
  v.pipe(
    v.string(),
    v.regex(
      /^(?!constructor$)[A-Za-z0-9][A-Za-z0-9-]{0,39}$/,
      "letters, digits and hyphens, at most 40, not “constructor”",
    ),
    v.description(description),
  );

export const quantity = (description: string, { least, greatest }: Range) =>
  v.pipe(
    v.number(),
    v.minValue(least, `${least} to ${greatest}`),
    v.maxValue(greatest, `${least} to ${greatest}`),
    v.description(description),
  );

export const whole = (description: string, { least, greatest }: Range) =>
  v.pipe(
    v.number(),
    v.integer("a whole number"),
    v.minValue(least, `${least} to ${greatest}`),
    v.maxValue(greatest, `${least} to ${greatest}`),
    v.description(description),
  );

/** At least one of something. */
export const some = <S extends v.GenericSchema>(item: S, description: string, least = 1) =>
  v.pipe(
    v.array(item),
    v.minLength(least, `at least ${least}`),
    v.maxLength(64, "at most 64"),
    v.description(description),
  );

export const list = <S extends v.GenericSchema>(item: S, description: string) =>
  v.pipe(v.array(item), v.maxLength(200, "at most 200"), v.description(description));
