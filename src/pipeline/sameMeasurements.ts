import type { Measurement } from '../measurement/measurement.js';
import type { Warning } from '../warning.js';
import type { MeasuredRequest } from './designRequest.js';

/** No two measurements agree in every digit, not even of one place: noise tells them apart. */
function isSame({ curve: a }: Measurement, { curve: b }: Measurement): boolean {
  return (
    a.frequencyHz.length === b.frequencyHz.length &&
    a.frequencyHz.every((hz, i) => hz === b.frequencyHz[i] && a.levelDb[i] === b.levelDb[i])
  );
}

const MEANING = {
  position: 'as two positions it only counts twice',
  repeat: 'as a repeat it makes the measurement look as if it repeated without any noise',
  moved:
    'as another placement it makes every dip look as if it stayed and were of the speaker, so that the EQ may fill it',
} as const;

/** Warnings where one measurement was given twice: as a second position, as a repeat or as another placement. */
export function sameMeasurements({ measurements, repeats = [], moved = [] }: MeasuredRequest): Warning[] {
  const pairs = [
    ...measurements.flatMap((a, i) =>
      measurements.slice(i + 1).map((b) => [a, b, MEANING.position] as const),
    ),
    ...repeats.flatMap((b) => measurements.slice(0, 1).map((a) => [a, b, MEANING.repeat] as const)),
    ...moved.flatMap((b) => measurements.map((a) => [a, b, MEANING.moved] as const)),
  ];
  return pairs
    .filter(([a, b]) => isSame(a, b))
    .map(([a, b, meaning]) => ({
      code: 'same-measurement',
      message: `${b.fileName} holds the very same levels as ${a.fileName}: ${meaning}. Give another measurement, or leave it out.`,
    }));
}
