import { expect, test } from 'vitest';
import { type QConventionName, qConventionNames } from '../../src/filter/qConventions.js';
import { conventionWords } from '../../src/verify/conventionWords.js';
import type { Hypothesis, HypothesisDetail } from '../../src/verify/hypothesis.js';
import type { Accepted } from '../../src/verify/judge.js';

const reading = (
  convention: QConventionName,
  direction: NonNullable<HypothesisDetail['direction']>,
  explains: number,
): Accepted => {
  const hypothesis: Hypothesis = {
    type: 'qConvention',
    changeDb: new Float64Array(0),
    penalty: 0,
    detail: { convention, direction },
  };
  return { hypothesis, explains, evidence: 0 };
};
const words = (...readings: [Accepted, ...Accepted[]]) =>
  conventionWords(readings[0].hypothesis, 'explains 36 % of the misfit', readings);

test('numbers that seem converted, but may have been entered as they stand, leave both ways out', () => {
  const { message, fix } = words(
    reading('poleQMirrored', 'converted', 0.36),
    reading('threeDbQ', 'converted', 0.355),
    reading('threeDbFromFlatQ', 'entered', 0.35),
  );
  expect(message).toContain(
    'About as good an explanation is Q between the points 3 dB short of the full gain;',
  );
  expect(fix).toMatch(/^Enter the Q of filters.txt as it stands there\. If it was entered so/);
  expect(fix).toContain('something else (Q between the points 3 dB from flat fits best)');
  // What is written into a device file is no word but a name.
  expect(fix).toContain('"qConvention": "threeDbFromFlatQ"');
  for (const name of qConventionNames.filter((n) => n !== 'cookbook')) expect(message).not.toContain(name);
});

test('numbers that seem entered as they stand, but may have been converted, leave both ways out', () => {
  const { fix } = words(reading('threeDbQ', 'entered', 0.6), reading('threeDbFromFlatQ', 'converted', 0.6));
  expect(fix).toMatch(/^Convert the Q of every filter .*"threeDbQ"/);
  expect(fix).toContain(
    'If the numbers were converted before they were entered (to Q between the points 3 dB from flat, say)',
  );
});

test('the other way round is left out where it explains less', () => {
  const { message, fix } = words(
    reading('bandwidthOctaves', 'entered', 0.9),
    reading('bandwidthOctaves', 'converted', 0.4),
    reading('poleQ', 'entered', 0.5),
  );
  expect(message).toContain('The next best, Q of the poles, explains 50 %.');
  expect(fix).not.toContain('converted before');
});
