import { expect, test } from 'vitest';
import { readSetup } from '../../../src/schema/setup.js';
import { describedSetup } from '../../../web/placement/describedSetup.js';
import { setupText } from '../../../web/state/setupText.js';

const row = (name: string, speaker: string, microphone: string) => ({ name, speaker, microphone });

test('what was typed is the set-up that a file would hold', async () => {
  const described = await describedSetup({
    straight: '1 m ± 1 cm',
    surfaces: [
      row(' wall behind ', '29 ± 2', '129'),
      row('desk', ' ', ''),
      row('side wall', '3 ft', '1.2 m'),
    ],
  });
  if (!('setup' in described)) throw new Error(described.problems.join('\n'));
  const { setup } = described;
  expect(setup.surfaces.map(({ name }) => name)).toEqual(['wall behind', 'side wall']);
  expect(setup.surfaces[0]).toMatchObject({
    speakerDistance: { m: 0.29, toleranceM: 0.02 },
    microphoneDistance: { m: 1.29, toleranceM: 0 },
  });
  expect(setup.surfaces[1]!.speakerDistance.m).toBeCloseTo(0.9144, 9);
  const read = readSetup(setupText(setup), 'setup.json');
  expect(read.surfaces.map(({ name }) => name)).toEqual(['wall behind', 'side wall']);
  expect(read.microphoneDistance).toEqual({ m: 1, toleranceM: 0.01 });
});

test.each([
  ['no straight distance', '', [], /^Speaker to microphone: found nothing/],
  ['a straight distance of nothing', '0', [], /^Speaker to microphone: found "0", expected more than 0/],
  ['half a surface', '1 m', [row('desk', '', '30')], /^Speaker from desk: found nothing/],
  ['a distance that is none', '1 m', [row('desk', 'near', '30')], /^Speaker from desk: found "near"/],
  ['too far', '1 m', [row('desk', '18', '300 m')], /^Microphone from desk: .*at most 50 m/],
  ['no name', '1 m', [row(' ', '18', '30')], /^A surface: found no name/],
  ['a name twice', '1 m', [row('desk', '18', '30'), row('desk ', '19', '31')], /^"desk": found twice/],
])('%s', async (_, straight, surfaces, words) => {
  const described = await describedSetup({ straight, surfaces });
  if (!('problems' in described)) throw new Error('it was taken');
  expect(described.problems).toEqual([expect.stringMatching(words)]);
});
