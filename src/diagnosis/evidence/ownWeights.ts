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
 * The same where the speaker was measured at other places as well, fitted together with `STAYING_WEIGHTS` to 7,000 dips of rooms
 * measured again, 524 of them the speaker's (`test/evaluate/simulatedRooms.ts`, all measured, `movedRooms.ts` and
 * `movedPathRooms.ts`; seeds 4410000 to 4410029), drawn toward what had been fitted to 4,800 others. What stays and what goes
 * tells there what the calm around a dip has to guess at from one curve, and the placement's odds have it in them already, so
 * they count for half as much.
 */
export const OWN_WEIGHTS_MOVED: Readonly<Record<keyof typeof OWN_WEIGHTS, number>> = {
  outset: -1.6,
  width: 1,
  height: 0.6,
  company: -0.35,
  calm: 0,
  placement: -0.25,
};

/** What other placements add to it, per unit of the terms of `movedEvidence.ts`. */
export const STAYING_WEIGHTS = {
  stayedInCalm: 3.6,
  stayedAgain: 0.4,
  stayedShort: 0.13,
  stayedCrossover: 0.75,
  /** What a comb makes that the speaker was moved along would be there whoever's it is. */
  stayedComb: -1.7,
} as const;

/** And per unit of `unlikeThere`: what looks otherwise elsewhere is not the speaker's, though a dip may be left near its place. */
export const UNLIKE_WEIGHT = -1;

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

/**
 * How much each term counts for a peak being the speaker's own, as log-odds. Fitted to 5,960 peaks of single curves and of averages,
 * 899 of them the speaker's, of three makes that count alike: those of `test/evaluate/calibration.ts` (seeds 4410100 to 4410211), and
 * two of other physics in Python (image sources with walls by octave bands, scattering, finite boards, box edges; impedance walls and
 * edge sources). By the first alone what was said at 65 / 75 / 85 % in the others was right in 47 / 65 / 59 %.
 */
export const PEAK_WEIGHTS: PeakWeights = {
  outset: 0.6,
  width: 1.05,
  height: 0.43,
  calm: 0.85,
  rough: -0.84,
  lone: 1,
  explained: -1.59,
  level: -0.2,
};

/**
 * The same where the speaker was moved, together with `PEAK_STAYING_WEIGHTS`: 7,170 peaks of the same makes, 629 of them the
 * speaker's. How rough the curve is tells nothing more there.
 */
export const PEAK_WEIGHTS_MOVED: PeakWeights = {
  outset: -0.34,
  width: 0.85,
  height: 0.51,
  calm: 0.85,
  rough: 0,
  lone: 0.75,
  explained: -1.29,
  level: -0.17,
};

export const PEAK_STAYING_WEIGHTS = {
  gone: -0.86,
  stayedInCalm: 1.57,
  stayedAgain: 0.2,
  stayedShort: 0.35,
  stayedComb: -4.89,
} as const;
export const PEAK_UNLIKE_WEIGHT = -1.4;

/** What else was measured: the direct sound had every peak of the speaker's, 41 of 41. That positions differ more at it than around tells nothing. */
export const PEAK_OTHER_WEIGHTS = { inDirect: 3, notInDirect: -2 } as const;

/**
 * What averages over positions add per unit of `withinSpread`, where the speaker was not moved. Fitted, on top of all else, to 527
 * peaks and 698 dips of averages over two to nine positions in rooms of two kinds, 208 of them the speaker's (`severalPositions` in
 * `test/evaluate/simulatedRooms.ts`, seeds 6610000 to 6610047, and rooms of other physics). Of those that had been called the
 * speaker's 89 (peaks) and 92 % (dips) were where they were twice the spread or more, 64 and 67 % up to it, 27 and 30 % below it. That
 * a dip stands out over it could count for the speaker, too: that won own ones, and filled some of the placement's. Of peaks fitted
 * anew with `PEAK_WEIGHTS` (−0.85 before).
 */
export const POSITIONS_WEIGHTS = { peak: -0.67, dip: -0.32 } as const;

/**
 * Terms as in `OWN_WEIGHTS`, and of a peak how rough the curve around is (`roughAround`), whether none as wide in hertz lies near it (how
 * many do tells no more), what of it reflections make (0 to 1) and its height over 1 dB, up to 5 more.
 */
type PeakWeights = Readonly<
  Record<'rough' | 'lone' | 'explained' | 'level' | Exclude<OwnWeightName, 'placement' | 'company'>, number>
>;
