import type { Prediction } from '../../schema/prediction.js';
import { csvField } from './csvField.js';

/**
 * `prediction.csv`, RFC 4180: one row a cancellation, or, where distances are varied, one row for each frequency of each
 * place, "now" first.
 */
export function predictionCsv(prediction: Prediction): string {
  return rowsOf(prediction)
    .map((row) => `${row.map((cell) => csvField(String(cell))).join(',')}\r\n`)
    .join('');
}

function rowsOf(prediction: Prediction): (string | number)[][] {
  const { varied, now, best, variedSurfaces, curves, surfaces } = prediction;
  if (!varied || !now || !curves) {
    return [
      [
        'surface',
        'path difference (m)',
        'cancellation (Hz)',
        'from (Hz)',
        'to (Hz)',
        'expected (Hz)',
        'depth (dB)',
      ],
      ...surfaces.flatMap(({ name, pathDifferenceM, dips }) =>
        dips.map((dip) => [
          name,
          pathDifferenceM,
          dip.frequencyHz,
          dip.fromHz ?? '',
          dip.toHz ?? '',
          dip.expectedHz,
          dip.depthDb,
        ]),
      ),
    ];
  }
  const level = prediction.levels === 'measured' ? 'level (dB)' : 'level over the direct sound (dB)';
  const places = [
    ['now', now] as const,
    ...varied.map((place) => ['varied', place] as const),
    ...(best ?? []).map((place, i) => [`best ${i + 1}`, place] as const),
  ];
  return [
    [
      'place',
      ...variedSurfaces!.map((name) => `${name} (m)`),
      'remaining error (dB RMS)',
      'frequency (Hz)',
      level,
    ],
    ...places.flatMap(([label, place]) =>
      (place.levelDb ?? []).map((db, i) => [
        label,
        ...place.surfaces.map(({ speakerDistanceM }) => speakerDistanceM),
        place.remainingErrorRmsDb ?? '',
        curves.frequencyHz[i]!,
        db,
      ]),
    ),
  ];
}
