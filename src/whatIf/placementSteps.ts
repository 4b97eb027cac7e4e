import { InputError } from '../inputError.js';
import { formatLength } from '../units/formatLength.js';
import { INCH_M } from '../units/unitTables.js';

/** A span of distances from one surface in which the speaker may stand. */
export interface VariedSpan {
  readonly surface: string;
  readonly fromM: number;
  readonly toM: number;
  /** Default: a round one that gives some 10 to 20 distances. */
  readonly stepM?: number;
}

const ROUND_STEPS = {
  cm: [0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10],
  in: [0.25, 0.5, 1, 2, 4, 8, 12, 24, 48, 96, 240],
};
const MOST_BY_DEFAULT = 19;
const MOST_STEPS = 1000;

/**
 * The distances of a span, ascending: `fromM` and steps from there, and `toM` itself.
 *
 * @throws InputError for a span that is none or has too many steps
 */
export function placementSteps({ surface, fromM, toM, stepM }: VariedSpan, unit: 'cm' | 'in'): number[] {
  const said = (m: number) => formatLength(m, unit);
  if (!(toM > fromM)) {
    throw new InputError(
      `"${surface}": found ${said(fromM)} to ${said(toM)}, expected the lesser distance first and the greater one second`,
    );
  }
  const step = stepM ?? roundStep(toM - fromM, unit);
  if (!(step > 0)) throw new InputError(`"${surface}": found a step of ${said(step)}, expected more than 0`);
  const count = Math.floor((toM - fromM) / step + 1e-6);
  if (count > MOST_STEPS) {
    throw new InputError(
      `"${surface}": found ${count} steps of ${said(step)}, expected at most ${MOST_STEPS}: give a greater --step`,
    );
  }
  const steps = Array.from({ length: count + 1 }, (_, i) => Math.round((fromM + i * step) * 1e6) / 1e6);
  if (toM - steps[count]! > 1e-4) steps.push(toM);
  else steps[count] = toM;
  return steps;
}

function roundStep(spanM: number, unit: 'cm' | 'in'): number {
  const metres = unit === 'in' ? INCH_M : 1;
  const steps = ROUND_STEPS[unit].map((step) => step * metres);
  return steps.find((step) => spanM / step <= MOST_BY_DEFAULT) ?? spanM / MOST_BY_DEFAULT;
}
