import { describe, expect, test } from 'vitest';
import { verificationText } from '../../src/export/text/verificationText.js';
import type { Filter } from '../../src/filter/filter.js';
import { movedFault } from '../../src/verify/faultWords.js';
import { verifyDesign } from '../../src/verify/verifyDesign.js';
import { bank, designOf, measuredWith, roomDb } from './smallRoom.js';

/** Small filters fit anything a little: taking one away from its place costs next to nothing. */
const peak: Filter = { type: 'peaking', frequencyHz: 1400, gainDb: 0.7, q: 4 };
const sharpShelf: Filter = { type: 'highShelf', frequencyHz: 629, gainDb: 0.5, q: 5 };

describe('a small filter that is where it belongs', () => {
  test.each<[string, Filter, Partial<Filter>, number]>([
    ['peak', peak, { frequencyHz: 120, gainDb: 1.5 }, 2],
    ['peak', peak, { frequencyHz: 120, gainDb: 1.5 }, 4],
    ['shelf', sharpShelf, { frequencyHz: 360 }, 3],
    ['shelf', sharpShelf, { frequencyHz: 360 }, 4],
  ])('is not accused of a bump of its own shape elsewhere (%s, noise %#)', (_, small, elsewhere, seed) => {
    const filters = [...bank, small];
    const after = measuredWith([...filters, { ...small, ...elsewhere }], { seed });
    const { faults } = verifyDesign({ design: designOf(filters), after });
    expect(faults.filter(({ filter }) => filter !== undefined)).toEqual([]);
  });

  test('is still named where it is really elsewhere, with some gain', () => {
    const filters = [...bank, { ...peak, gainDb: 3 }];
    const after = measuredWith([...bank, { ...peak, gainDb: 3, frequencyHz: 420 }]);
    const { faults } = verifyDesign({ design: designOf(filters), after });
    expect(faults[0]).toMatchObject({ type: 'frequencyWrong', filter: 4 });
  });
});

describe('another tone of everything', () => {
  // What a measurement microphone of a small capsule may be off at both ends, and a tilt.
  const capsule = (hz: number) => 2 / (1 + (8000 / hz) ** 2) - 1.5 / (1 + (hz / 60) ** 2);
  const tilt = (hz: number) => 0.3 * Math.log2(hz / 1000);
  test.each<[string, (hz: number) => number]>([
    ['a calibration forgotten', capsule],
    ['one taken off twice', (hz) => -capsule(hz)],
    ['a tilt', tilt],
    ['a tilt the other way', (hz) => -tilt(hz)],
  ])('is no fault of a filter: %s', (_, toneDb) => {
    const good = measuredWith(bank, { seed: 3 });
    const after = { ...good, levelDb: good.levelDb.map((db, i) => db + toneDb(good.frequencyHz[i]!)) };
    const { faults } = verifyDesign({ design: designOf(), after });
    expect(faults).toHaveLength(1);
    expect(faults[0]).toMatchObject({ type: 'unknown' });
    expect(faults[0]).not.toHaveProperty('filter');
    expect(faults[0]!.message).toMatch(/^The tone of the whole has changed/);
  });
});

const unwrapped = (text: string) => text.replace(/\s+/g, ' ');

test('shares of the misfit and what remains in dB are told to be two measures', () => {
  const faulty = verifyDesign({ design: designOf(), after: measuredWith(bank.slice(1)) });
  const text = unwrapped(verificationText(faulty));
  const usual = /would remain .* \(noise and a microphone .* usually leave \d\.\d dB\)/;
  expect(text).toMatch(/about \d\.\d dB would remain/);
  expect(text).not.toMatch(usual);
  const halfMended = { ...faulty, remainingRmsDb: 0.6 * faulty.errorRmsDb };
  expect(unwrapped(verificationText(halfMended))).toMatch(usual);
  expect(text).toContain('Shares: of the misfit in units of what noise and a microphone');
  const good = verifyDesign({ design: designOf(), after: measuredWith(bank) });
  expect(unwrapped(verificationText(good))).not.toContain('Shares:');
});

test('a move of the speaker says that it hides the filters, and the remedy leads back to the old place', () => {
  expect(Math.abs(roomDb(300, 0.3) - roomDb(300, 0.5))).toBeGreaterThan(1);
  const { faults } = verifyDesign({ design: designOf(), after: measuredWith(bank, { distanceM: 0.5 }) });
  const move = faults.find(({ type }) => type === 'speakerMoved')!;
  expect(move.message).toContain(
    'It hides what the filters do: one of them may be missing or wrong as well.',
  );
  expect(move.fix).toMatch(/^Put speaker and microphone back where they stood and measure again;/);
});

test('a move that hides even whether the filters act says so, and sends to look', () => {
  const told = (evidence: number) =>
    movedFault(0.9, [], true, true, {
      wholeBank: [
        {
          hypothesis: { type: 'bypassed', changeDb: new Float64Array(0), penalty: 3, detail: {} },
          evidence,
          explains: 0,
        },
      ],
    });
  expect(told(-4).message).not.toMatch(/did nothing|whether they act/);
  expect(told(-4).fix).toMatch(/^Put speaker/);
  expect(told(-1).message).toContain('Not even whether they act at all can be told beside it.');
  expect(told(-1).fix).toMatch(/^See that the equalizer is on/);
  expect(told(2).message).toContain('it looks more as if they did nothing at all');
});

test('a move beside filters that do nothing says that it looks so, and not where they act', () => {
  const moved = (filters: readonly Filter[]) =>
    verifyDesign({ design: designOf(), after: measuredWith(filters, { distanceM: 0.7 }) }).faults[0]!;
  const off = moved([]);
  expect(off.type).toBe('speakerMoved');
  expect(off.message).toContain('it looks more as if they did nothing at all');
  expect(off.fix).toMatch(/^See that the equalizer is on/);
  const on = moved(bank);
  expect(on.type).toBe('speakerMoved');
  expect(on.message).not.toContain('did nothing');
});
