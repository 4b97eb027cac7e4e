import { describe, expect, test } from 'vitest';
import { placementSteps } from '../../src/whatIf/placementSteps.js';

const span = { surface: 'wall behind', fromM: 0.1, toM: 1 };

describe('placementSteps', () => {
  test('begins and ends where it is told, in round steps', () => {
    const steps = placementSteps(span, 'cm');
    expect(steps[0]).toBe(0.1);
    expect(steps[steps.length - 1]).toBe(1);
    expect(steps[1]).toBeCloseTo(0.15, 9);
  });

  test('ends at the far end also where the step does not meet it', () => {
    expect(placementSteps({ ...span, stepM: 0.4 }, 'cm')).toEqual([0.1, 0.5, 0.9, 1]);
    expect(placementSteps({ ...span, stepM: 3 }, 'cm')).toEqual([0.1, 1]);
  });

  test('steps in whole inches for someone who measures in inches', () => {
    const steps = placementSteps({ ...span, fromM: 0.254, toM: 0.254 * 4 }, 'in');
    expect((steps[1]! - steps[0]!) / 0.0254).toBeCloseTo(2, 4);
  });

  test('refuses a span that is none and steps without end', () => {
    expect(() => placementSteps({ ...span, toM: 0.1 }, 'cm')).toThrow(/10 cm to 10 cm/);
    expect(() => placementSteps({ ...span, stepM: 0 }, 'cm')).toThrow(/more than 0/);
    expect(() => placementSteps({ ...span, stepM: 1e-4 }, 'cm')).toThrow(/at most 1000/);
  });
});
