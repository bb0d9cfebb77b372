/** Words that the wording rules go by. Lists, not grammar: what they miss an approver still reads. */

/** Verbs that change something: a step has one. */
export const OPERATING_VERBS: ReadonlySet<string> = new Set(
  `add adjust attach bleed bolt bring carry change clamp clean clear clip close connect couple cover cut
  disconnect draw drop dry empty engage fasten fill fit fix flush grease hang insert latch lay lift lock
  loosen lower mount move open park place plug pour press pressurise pressurize prime pull pump push put
  raise refill release remove replace reset rinse rotate route run screw seal seat secure set shut slide
  slacken slide soap spread spin stand start stow swing switch tie tighten tilt turn twist uncouple
  undo unlock unscrew untie vent wash wipe`.split(/\s+/),
);

/** Verbs that only look, speak or wait: they may follow the act, for it is how its end is seen. */
export const OBSERVING_VERBS: ReadonlySet<string> = new Set(
  `answer ask call check compare count feel find have hear hold inspect keep leave let listen look mark measure
  name note observe point read repeat report say search see show sign speak stop sweep tell time touch try wait
  warn watch weigh write`.split(/\s+/),
);

export const isVerb = (word: string): boolean => OPERATING_VERBS.has(word) || OBSERVING_VERBS.has(word);

/** Words that leave open what is to be done. */
export const VAGUE =
  /\b(ensure|make sure|as (?:required|needed|necessary|appropriate)|if (?:needed|necessary|required)|properly|correctly|adequate(?:ly)?|appropriate(?:ly)?|sufficient(?:ly)?|suitable|suitably|etc|and so on)\b/i;

/** Answers that say that something was done, not what was seen. */
export const EMPTY_ANSWER =
  /^(?:checked?|ok|okay|done|yes|no|good|bad|fine|complete[d]?|verified|confirmed|n\/?a|pass(?:ed)?|fail(?:ed)?)[.!]?$/i;

/** One thing, one word: groups of words that crews use for the same thing. */
export const SAME_THING: readonly (readonly string[])[] = [
  ["latch", "clamp", "catch", "buckle", "clip"],
  ["stopper", "bung", "cork"],
  ["cord", "string", "lanyard", "rope"],
];

export const wordsOf = (text: string): readonly string[] =>
  text.toLowerCase().match(/[\p{L}\p{N}'’-]+/gu) ?? [];

export const wordCount = (text: string): number => text.trim().split(/\s+/).filter(Boolean).length;
