import { cookbookCoefficients } from '../filter/cookbookCoefficients.js';
import type { Design } from '../schema/design.js';
import { cleanText } from './cleanText.js';
import { qConventionWords } from './qConventionWords.js';
import { stableJson } from './stableJson.js';

/**
 * `coefficients.json`: one second-order section a filter, normalised to a0 = 1, with the equation beside them that
 * says which sign the feedback has. Input gain comes first, then the sections in series.
 */
export function coefficientsJson(design: Design): string {
  return stableJson({
    schemaVersion: 1,
    title: cleanText(design.title),
    sampleRateHz: design.sampleRateHz,
    inputGainDb: design.inputGainDb,
    inputGainLinear: 10 ** (design.inputGainDb / 20),
    qConvention: qConventionWords,
    differenceEquation: 'y[n] = b0*x[n] + b1*x[n-1] + b2*x[n-2] - a1*y[n-1] - a2*y[n-2]',
    transferFunction: 'H(z) = (b0 + b1*z^-1 + b2*z^-2) / (1 + a1*z^-1 + a2*z^-2)',
    feedbackSign: 'subtracted',
    order: 'multiply the signal by inputGainLinear, then pass it through all sections one after another',
    sections: design.filters.map((filter) => {
      const { b0, b1, b2, a1, a2 } = cookbookCoefficients(filter, design.sampleRateHz);
      const { type, frequencyHz, gainDb, q } = filter;
      return { filter: { type, frequencyHz, gainDb, q }, coefficients: { b0, b1, b2, a0: 1, a1, a2 } };
    }),
  });
}
