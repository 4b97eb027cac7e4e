/**
 * How much each kind of evidence counts, as log-odds (natural logarithm) per unit of its term: +0.7 doubles the odds
 * that the placement makes a dip, +2.3 makes them ten times as high.
 *
 * The first two groups were fitted by logistic regression to some 11,000 dips of simulated rooms of two kinds
 * (`fixtures/simulate` and `test/evaluate/pathRooms.ts`; training seeds apart from those that are reported). The terms
 * below them were set by hand, so that clear evidence of a direct kind outweighs a poor outset.
 */
export const WEIGHTS = {
  /** The outset, with all terms at zero. */
  prior: -10.8,
  /** Depth under the 1.5 octaves around, dB up to 2. */
  depthTo2: 2.45,
  /** Further depth, dB up to 4. */
  depthBeyond: 0.1,
  /** Octaves of width, log2 of it over 0.2. */
  width: -0.6,
  /** How far it stands out against the passes beside it, dB up to 5. */
  prominence: 0.73,
  /** 1 above 2.5 kHz, where reflections are weak and were not fitted. */
  highFrequency: -1.6,
  /** Depth there, dB up to 5. */
  highDepth: 0.23,
  /** Depth of the fitted reflections' own dip, dB up to 1.5, and from there to 3. */
  explainedTo1: 0.1,
  explainedTo3: 1.1,
  /** How far direct and reflected sound lie under the direct sound alone, dB beyond 1 and up to 5. */
  underDirect: 0.3,
  /** Depth beyond what the reflections make, dB up to 4, where they describe the surroundings well, and where not. */
  unexplainedInSmooth: -1.1,
  unexplainedInRough: 0.3,
  /** RMS of what reflections make elsewhere in the curve, dB up to 1. */
  companyTo1: 1.75,
  /** How much better the reflections describe the curve than none, log2 of squared deviations over 40, up to 4. */
  gain: 0.5,
  /** RMS of all heights of the curve, 0.5 to 3 dB. */
  roughCurve: 0.1,
  /** ln of how much stronger the path that does most is here than 1.5 octaves below, up to 1.5: reflections fade upward. */
  rising: -0.75,

  /** Depth beyond 8 dB where it is narrower than 0.6 octave, dB up to 6: speakers have no such dips. */
  deepNarrow: 2.2,
  /** 1 where there is nothing but one curve to go by: a speaker uneven enough can look like any placement. */
  curveAlone: -0.7,
  /** 1 where another placement no longer has it; up to 5 in a curve that is smooth else. */
  gone: 1.7,
  /** 1 where every placement still has it in a curve that is smooth else. */
  stayedInCalm: -8.5,
  /** Likeness (0 to 2.1) in the placement where it is least, times the placements beyond the first; times octaves above 1 kHz. */
  stayedAgain: -0.7,
  stayedShort: -0.55,
  /** The same likeness and up to 1 where it is the same everywhere, for what looks like two drivers that cancel. */
  stayedCrossover: -0.6,
  /** How much of it (0 to 1) a reflection makes whose comb is the same in all placements. */
  stayedComb: 2,
  /** log2 of the positions' spread here over that around; and how many times wider it is beyond twice. */
  spread: 0.5,
  wideSpread: 2.5,
  /** 1 where the excess group delay is two periods. */
  excessDelay: 0.5,
  /** 1 where a reflection seen in time cancels here with 0.4 of the direct sound. */
  seenInTime: 6.5,
  /** 1 where the direct sound alone has no such dip, or has it too. */
  notInDirect: 2.5,
  inDirect: -3,
  /** Where an impulse response has no strong reflection: 1 where sound as strong as a dip needs follows it late enough to be seen, −1 where it is 12 dB weaker. */
  laterThere: 5,
  /** The same: octaves above 1 kHz, up to 2; what is too dull to be found is weak there. */
  laterDull: -1.5,
  /** The same: octaves below 1 kHz, up to 2, of a dip so wide that dull sound too early to be seen makes it as well. */
  laterEarly: 0.3,
} as const;

export type WeightName = keyof typeof WEIGHTS;
