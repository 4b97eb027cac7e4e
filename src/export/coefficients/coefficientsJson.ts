import { pow10 } from '../../elementary/power.js';
import { cookbookCoefficients } from '../../filter/cookbookCoefficients.js';
import type { Design } from '../../schema/design.js';
import { stableJson } from '../json/stableJson.js';
import { cleanText } from '../words/cleanText.js';
import { qConventionWords } from '../words/qConventionWords.js';
import { differenceEquation, formatName, storedSections } from './storedSections.js';

/**
 * `coefficients.json`: one second-order section a filter, normalised to a0 = 1, with the equation beside them that
 * says which sign the feedback has. Input gain comes first, then the sections in series.
 */
export function coefficientsJson(design: Design): string {
  const own = design.device?.coefficients;
  if (own) return deviceCoefficientsJson(design, own);
  return stableJson({
    schemaVersion: 1,
    title: cleanText(design.title),
    sampleRateHz: design.sampleRateHz,
    inputGainDb: design.inputGainDb,
    inputGainLinear: pow10(design.inputGainDb / 20),
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

/** The same as the device holds it: rounded to its number format, in its sign, with its words beside the values. */
function deviceCoefficientsJson(design: Design, form: DeviceForm): string {
  const { feedbackSign, fixedPoint, order } = form;
  const stored = storedSections(design, design.sampleRateHz, form);
  const by = feedbackSign === 'added' ? '-' : '+';
  const named = <T>(values: readonly T[]) => Object.fromEntries(order.map((name, i) => [name, values[i]!]));
  return stableJson({
    schemaVersion: 1,
    title: cleanText(design.title),
    device: cleanText(design.device!.name),
    sampleRateHz: design.sampleRateHz,
    inputGainDb: stored.inputGainDb,
    inputGainLinear: stored.inputGainLinear,
    qConvention: qConventionWords,
    numberFormat: fixedPoint
      ? `${formatName(fixedPoint)} fixed point: ${fixedPoint.integerBits} integer bits, the sign among them, ${fixedPoint.fractionBits} fraction bits, two's complement`
      : 'floating point',
    differenceEquation: differenceEquation(feedbackSign),
    transferFunction: `H(z) = (b0 + b1*z^-1 + b2*z^-2) / (1 ${by} a1*z^-1 ${by} a2*z^-2)`,
    feedbackSign,
    coefficientOrder: [...order],
    order: 'multiply the signal by inputGainLinear, then pass it through all sections one after another',
    sections: stored.sections.map(({ filter, values, words, hex, maxErrorDb, poleRadius }) => {
      const { type, frequencyHz, gainDb, q } = filter;
      return {
        filter: { type, frequencyHz, gainDb, q },
        coefficients: { ...named(values), a0: 1 },
        ...(words && { words: named(words) }),
        ...(hex && { hex: named(hex) }),
        ...(maxErrorDb !== undefined && { maxErrorDb }),
        ...(poleRadius !== undefined && { poleRadius }),
      };
    }),
    warnings: stored.warnings.map(({ code, message }) => ({ code, message })),
  });
}

type DeviceForm = NonNullable<NonNullable<Design['device']>['coefficients']>;
