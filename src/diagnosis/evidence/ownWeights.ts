/**
 * How much each term counts for a dip being the speaker's own, as log-odds (natural logarithm) per unit. Fitted by
 * logistic regression to some 3,300 dips of three unlike simulators, late echoes among them, and of curves that are
 * nothing but filters; a dip counts as the speaker's where its direct sound alone has at least half of it
 * (`test/evaluate/ownDips.ts`; training seeds apart from those that are reported).
 */
export const OWN_WEIGHTS = {
  outset: -1.66,
  /** Octaves of width, log2 of it over 0.2, −2 to 2.5. */
  width: 0.79,
  /** log2 of the frequency over 1 kHz, −3 to 2: reflections fade upward, and there cones break up and edges bend sound. */
  height: 0.68,
  /** Other dips of like depth and width in hertz within sixteen widths, up to 5. */
  company: -0.62,
  /** log2 of its depth over ten times the fine ripple around it, −2 to 4. */
  calm: 0.54,
  /** Log-odds for the placement, −6 to 4. */
  placement: -0.51,
} as const;

/**
 * The same where the speaker was measured at other places as well, fitted together with `STAYING_WEIGHTS` to 4,800 dips of rooms
 * measured again, 416 of them the speaker's (`test/evaluate/simulatedRooms.ts`, all measured, and `movedRooms.ts`; seeds
 * 410000 to 430043). What stays and what goes tells there what the calm around a dip has to guess at from one curve, and
 * the placement's odds have it in them already, so they count for half as much.
 */
export const OWN_WEIGHTS_MOVED: Readonly<Record<keyof typeof OWN_WEIGHTS, number>> = {
  outset: -1.75,
  width: 1,
  height: 0.7,
  company: -0.4,
  calm: 0,
  placement: -0.25,
};

/**
 * What other placements add to it, per unit of the terms of `movedEvidence.ts`. Crossovers and staying again are given more than was
 * fitted (0.45 and 0.36), by hand: the fit is no worse for it, and deep nulls of drivers are few in those rooms.
 */
export const STAYING_WEIGHTS = {
  stayedInCalm: 4.9,
  stayedAgain: 0.6,
  stayedShort: 0.1,
  stayedCrossover: 1.2,
} as const;

/**
 * What impulse responses without a strong reflection add, beyond what the placement's odds have of it (`weights.ts`, where these
 * terms stand as well). Chosen together by the loss over some 1,300 dips of free fields, dull walls, boards and rooms.
 */
export const LATER_WEIGHTS = {
  laterThere: 0.5,
  laterDull: 0.5,
  laterEarly: -1,
} as const;

export type OwnWeightName = keyof typeof OWN_WEIGHTS;
