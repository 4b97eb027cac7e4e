/** placeholder until trained */
export const WEIGHTS = {
  prior: -14,
  depthTo2: 2.2,
  depthBeyond: 0,
  deepNarrow: 1.5,
  width: -0.6,
  prominence: 0.7,
  explainedTo1: 0.6,
  explainedTo3: 1.2,
  namedLoss: 0,
  unexplainedInSmooth: -0.7,
  unexplainedInRough: 0.4,
  companyTo1: 4,
  companyTo2: 0,
  gain: 0,
  roughCurve: 0.8,
  highFrequency: -0.5,
  highDepth: 0.2,
  stayed: 0,
  spread: 0,
  excessDelay: 0,
} as const;
export type WeightName = keyof typeof WEIGHTS;
