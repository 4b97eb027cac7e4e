import type { Checkable } from '../schema/checkable.js';
import type { Warning } from '../warning.js';
import { widthWords } from './unlikeFineStructure.js';

/** Over which a design's figures are taken where it does not say: the default of a fit. */
export const USUAL_SMOOTHING_OCTAVES = 1 / 12;

/** What cannot be told, or is assumed, where a design holds less than a fit leaves. */
export function lessTold({ device, range, curves, zones, limits, positions }: Checkable): Warning[] {
  const untold = curves
    ? []
    : [
        'how near to its target the speaker comes with the filters (curves.targetDb is not there)',
        ...(positions
          ? []
          : [
              'whether what was measured now is one of the measurements that the design was made from (positions)',
            ]),
        ...(device?.coefficients?.fixedPoint
          ? ['what the rounded coefficients of the device add to the response of its filters (curves.eqDb)']
          : []),
      ];
  const assumed = [
    ...(range ? [] : ['the whole span that both measurements cover is compared (range)']),
    ...(limits
      ? []
      : [
          `distances are taken smoothed over ${widthWords(USUAL_SMOOTHING_OCTAVES)} (limits.smoothingOctaves)`,
        ]),
    ...(curves && !zones ? ['spans that the equalizer leaves alone count like all others (zones)'] : []),
  ];
  if (untold.length + assumed.length === 0) return [];
  return [
    {
      code: 'less-in-design',
      message: [
        'The design holds less than a fit leaves, whose names stand in brackets.',
        ...(untold.length > 0 ? [`Not to be told without it: ${untold.join('; ')}.`] : []),
        ...(assumed.length > 0 ? [`Assumed: ${assumed.join('; ')}.`] : []),
        ...(untold.length > 0 ? ['Whether the filters act as they should can be told all the same.'] : []),
      ].join(' '),
    },
  ];
}
