/**
 * How much each term counts for a dip being the speaker's own, as log-odds (natural logarithm) per unit. Fitted by
 * logistic regression to some 6,000 dips of three unlike simulators, late echoes among them; a dip counts as the
 * speaker's where its direct sound alone has at least half of it (`test/evaluate/ownDips.ts`; training seeds apart from
 * those that are reported).
 */
export const OWN_WEIGHTS = {
  outset: -3.18,
  /** Octaves of width, log2 of it over 0.2, −2 to 2.5. */
  width: 0.73,
  /** log2 of the frequency over 1 kHz, −3 to 2: reflections fade upward, and there cones break up and edges bend sound. */
  height: 0.59,
  /** Other dips of like depth per octave, up to 4. */
  company: -0.6,
  /** Its depth over the ripple around it, up to 8. */
  standsOut: 0.22,
  /** Log-odds for the placement, −6 to 4. */
  placement: -0.49,
} as const;

export type OwnWeightName = keyof typeof OWN_WEIGHTS;
