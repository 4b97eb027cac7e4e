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
    'as another placement it makes every dip look as if it stayed and were of the speaker, so it is not held against the first',
  movedTwice: 'it counts as one placement',
} as const;

type Role = keyof typeof MEANING;

/** Warnings where one measurement was given more than once, one for each that is too many. */
export function sameMeasurements({ measurements, repeats = [], moved = [] }: MeasuredRequest): Warning[] {
  const first = measurements.slice(0, 1);
  return [
    ...measurements.flatMap((one, i) => warningOf(one, { position: measurements.slice(0, i) })),
    ...repeats.flatMap((one) => warningOf(one, { repeat: first })),
    ...moved.flatMap((one, i) => warningOf(one, { moved: measurements, movedTwice: moved.slice(0, i) })),
  ];
}

/** The placements that tell something: not the measurement itself, and each once. */
export function otherPlacements(
  measurements: readonly Measurement[],
  moved: readonly Measurement[],
): readonly Measurement[] {
  return moved.filter(
    (one, i) => ![...measurements, ...moved.slice(0, i)].some((earlier) => isSame(earlier, one)),
  );
}

function warningOf(one: Measurement, earlierOnes: Partial<Record<Role, readonly Measurement[]>>): Warning[] {
  for (const role of Object.keys(earlierOnes) as Role[]) {
    const earlier = earlierOnes[role]?.find((other) => isSame(other, one));
    if (!earlier) continue;
    const is =
      earlier.fileName === one.fileName
        ? `${one.fileName} was given twice, or two files of that name hold the very same levels`
        : `${one.fileName} holds the very same levels as ${earlier.fileName}`;
    return [
      {
        code: 'same-measurement',
        message: `${is}: ${MEANING[role]}. Give another measurement, or leave it out.`,
      },
    ];
  }
  return [];
}
