import { describe, expect, test } from 'vitest';
import { InputError } from '../../src/inputError.js';
import { DEFAULT_LIMITS } from '../../src/pipeline/designRequest.js';
import { readDesignOptions } from '../../src/schema/designOptions.js';
import { DEFAULT_BASS_SHELF_HZ } from '../../src/target/targetRequest.js';

const read = (written: Record<string, unknown>) =>
  readDesignOptions(written, 'options', (field) => `<${field}>`);

function refusalOf(written: Record<string, unknown>): string {
  try {
    read(written);
  } catch (error) {
    expect(error).toBeInstanceOf(InputError);
    return (error as InputError).message;
  }
  throw new Error('not refused');
}

describe('readDesignOptions', () => {
  test('has the defaults of the pipeline', () => {
    expect(read({})).toEqual({
      bands: DEFAULT_LIMITS.bands,
      maxBoost: DEFAULT_LIMITS.maxBoostDb,
      maxCut: DEFAULT_LIMITS.maxCutDb,
      maxLevelLoss: DEFAULT_LIMITS.maxLevelLossDb,
      qMin: DEFAULT_LIMITS.minQ,
      qMax: DEFAULT_LIMITS.maxQ,
      sampleRate: DEFAULT_LIMITS.sampleRateHz,
      smoothing: DEFAULT_LIMITS.smoothingOctaves,
      seed: DEFAULT_LIMITS.seed,
      bassShelfFrequency: DEFAULT_BASS_SHELF_HZ,
    });
  });

  test('reads quantities with and without units, negative ones too', () => {
    const options = read({
      tilt: '-0.8 dB per octave',
      level: '-3 dB',
      bassShelf: '3dB',
      from: '2.5 kHz',
      to: '16000',
      sampleRate: '44.1 kHz',
      smoothing: '1/24',
      bands: 5,
    });
    expect(options).toMatchObject({ tilt: -0.8, level: -3, bassShelf: 3, from: 2500, to: 16000, bands: 5 });
    expect(options.sampleRate).toBeCloseTo(44100, 6);
    expect(options.smoothing).toBeCloseTo(1 / 24, 12);
  });

  test.each([
    [{ bands: '0' }, '<bands>: found "0", expected a whole number from 1 to 40'],
    [{ bands: '2.5' }, '<bands>: found "2.5"'],
    [{ bands: '1e1' }, '<bands>: found "1e1"'],
    [{ maxBoost: '-1' }, '<maxBoost>: found "-1", expected 0 dB to 24 dB'],
    [{ maxCut: '-12 dB' }, '<maxCut>: found "-12 dB", expected 0 dB to 60 dB'],
    [{ qMin: '0' }, '<qMin>: found "0", expected a Q from 0.1 to 50'],
    [{ qMin: '11' }, '<qMin>: found 11, expected at most <qMax>, 10'],
    [{ shelfQMax: '0.3' }, '<shelfQMax>: found 0.3, expected at least <qMin>, 0.4'],
    [{ sampleRate: '48' }, '<sampleRate>: found "48", expected 8 kHz to 768 kHz'],
    [{ smoothing: '12' }, '<smoothing>: found "12"'],
    [{ seed: '-1' }, '<seed>: found "-1"'],
    [{ from: '0' }, '<from>: found "0"'],
    [
      { from: '200 Hz', to: '100 Hz' },
      '<to>: found 100 Hz, expected at least a third of an octave above <from>, 200 Hz',
    ],
    [{ maxBoost: 0, maxCut: 0 }, '<maxBoost>: found 0 dB, expected more than 0 dB for it or for <maxCut>'],
    [{ tilt: 'NaN' }, '<tilt>: found "NaN"'],
    [
      { tilt: '1 Hz' },
      '<tilt>: found "1 Hz", expected a slope in dB per octave such as "-0.8 dB per octave"',
    ],
    [{ level: 'Infinity' }, '<level>: found "Infinity"'],
    [{ bandz: 3 }, 'unknown key "bandz" (did you mean "bands"?)'],
  ])('refuses %j', (written, message) => {
    expect(refusalOf(written)).toContain(message);
  });

  test('reports problems of single options and between options together', () => {
    const message = refusalOf({ bands: '0', from: '300', to: '200', qMin: '5', qMax: '2', maxBoost: 'much' });
    expect(message.split('\n')).toHaveLength(5);
    for (const field of ['<bands>', '<to>', '<qMin>', '<maxBoost>']) expect(message).toContain(field);
  });

  test('checks no rule between options of which one cannot be read', () => {
    expect(refusalOf({ from: 'low', to: '200' }).split('\n')).toHaveLength(1);
  });
});
