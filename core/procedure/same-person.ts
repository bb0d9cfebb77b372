/** Codes are typed by hand, at the stand in capitals: a1 is A1. */
export const isSamePerson = (a: string, b: string): boolean => a.toUpperCase() === b.toUpperCase();
