import { describe, expect, test } from 'vitest';
import { design } from '../../src/design.js';
import { measurementText } from '../../src/export/tables/measurementText.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import { cookbookCoefficients } from '../../src/filter/cookbookCoefficients.js';
import type { Filter } from '../../src/filter/filter.js';
import { arraySource } from '../../src/impulse/samples/sampleSource.js';
import { deconvolveSweep } from '../../src/impulse/sweep/deconvolveSweep.js';
import { sweepSignal } from '../../src/impulse/sweep/exponentialSweep.js';
import { sweepParameters } from '../../src/impulse/sweep/sweepParameters.js';
import { readImpulse } from '../../src/measurement/readImpulse.js';
import { readMeasurement } from '../../src/measurement/readMeasurement.js';
import { sweptComment } from '../../src/measurement/sweptSpan.js';
import { writeWav } from '../../src/measurement/wavWriter.js';
import { averageMeasurements } from '../../src/pipeline/averageMeasurements.js';
import { DEFAULT_LIMITS } from '../../src/pipeline/designRequest.js';
import { responseReport } from '../../src/pipeline/responseReport.js';
import { verifyDesign } from '../../src/verify/verifyDesign.js';
import { filtered, noise, pass, peaking } from '../impulse/digitalSystem.js';

const rate = 48_000;
/** It plays from 60 Hz to the end. */
const speaker = [pass('high', 60, 0.7, rate), peaking(900, 5, 2, rate)];

/** What deconvolve leaves of a sweep of that span, as WAV. */
function swept(fromHz: number, toHz: number, box = speaker) {
  const sweep = sweepParameters({ fromHz, toHz, durationS: 2 });
  const played = filtered(box, sweepSignal(sweep));
  const random = noise(played.length, 4);
  const { impulse } = deconvolveSweep(arraySource(played.map((v, n) => v + 1e-5 * random[n]!)), sweep);
  return writeWav({
    channels: [impulse.samples],
    sampleRateHz: rate,
    format: 'float32',
    comment: sweptComment(impulse.swept!),
  }).bytes;
}

const made = (bytes: Uint8Array, name = 'part.wav') =>
  design({
    title: 'swept',
    measurements: [readMeasurement(bytes, name)],
    target: {},
    ...DEFAULT_LIMITS,
    bands: 4,
    effort: 'quick',
  });

describe('a response to a sweep of a part of the band', () => {
  const bytes = swept(150, 8000);

  test('is trusted as far as the sweep went, by what the file says', () => {
    expect(readImpulse(bytes, 'part.wav').impulse.swept).toEqual({ fromHz: 150, toHz: 8000 });
    expect(readMeasurement(bytes, 'part.wav').trusted).toEqual({ fromHz: 150, toHz: 8000 });
    const plain = writeWav({
      channels: [readImpulse(bytes, 'part.wav').impulse.samples],
      sampleRateHz: rate,
      format: 'float32',
    });
    expect(readMeasurement(plain.bytes, 'part.wav').trusted!.fromHz).toBeLessThan(140);
  });

  test('is fitted no farther, and where the sweep begins is taken for no corner of the speaker', () => {
    const { range, warnings, filters, curves } = made(bytes);
    expect(range).toMatchObject({ fromHz: 150, toHz: 8000 });
    expect(warnings.find(({ code }) => code === 'range-cut-by-sweep')!.message).toMatch(
      /^The sweep went from 150 Hz to 8 kHz/,
    );
    expect(warnings.map(({ code }) => code)).not.toContain('range-cut-by-noise');
    // The fall at either end is the sweep's, of which nothing is filled up.
    for (const { gainDb } of filters) expect(gainDb).toBeLessThan(2);
    const { frequencyHz, measuredDb, smoothedDb } = curves;
    for (const [i, hz] of frequencyHz.entries())
      if (hz >= 7000 && hz <= 8000) expect(Math.abs(smoothedDb[i]! - measuredDb[i]!)).toBeLessThan(0.05);
  });

  test('says so as text too', () => {
    const { impulse } = readImpulse(bytes, 'part.wav');
    const text = measurementText(responseReport({ title: 'part', impulse, gate: 'none' }));
    expect(text).toContain('# swept: 150 to 8000 Hz');
    const { range, warnings } = made(new TextEncoder().encode(text), 'part.txt');
    expect(range).toMatchObject({ fromHz: 150, toHz: 8000 });
    expect(warnings.map(({ code }) => code)).toContain('range-cut-by-sweep');
  });
});

test('a sweep of the whole audible band cuts nothing off, and the speaker keeps its corner', () => {
  const { range, warnings } = made(swept(20, 20_000));
  expect(Math.abs(Math.log2(range.fromHz / 60))).toBeLessThan(0.2);
  expect(range.toHz).toBe(20_000);
  expect(warnings.map(({ code }) => code)).not.toContain('range-cut-by-sweep');
});

test('a sweep that begins within the fall leaves the speaker the corner that it shows, and nothing is lifted below', () => {
  const { cornerHz, range, warnings, filters } = made(swept(40, 20_000));
  expect(Math.abs(Math.log2(cornerHz! / 60))).toBeLessThan(0.2);
  expect(range.fromHz).toBe(cornerHz);
  const [atEndDb] = bankResponseDb(filters, rate, Float64Array.of(42));
  expect(atEndDb).toBeLessThan(1);
  expect(warnings.map(({ code }) => code)).not.toContain('range-cut-by-sweep');
});

test('one that begins above it shows none', () => {
  const { range, warnings } = made(
    swept(80, 20_000, [pass('high', 60, 0.7, rate), peaking(120, 4, 3, rate)]),
  );
  expect(range.fromHz).toBe(80);
  expect(warnings.map(({ code }) => code)).toContain('range-cut-by-sweep');
});

test('a sweep to 19.8 kHz, as far as 44.1 kHz lets it go, is nothing to be warned of', () => {
  const { range, warnings } = made(swept(20, 19_845));
  expect(range.toHz).toBe(19_845);
  expect(warnings.map(({ code }) => code).filter((code) => code.startsWith('range-cut'))).toEqual([]);
});

test('octaves that hold nothing at all, beyond the sweep, have no figure in the report', () => {
  const { impulse } = readImpulse(swept(150, 8000), 'part.wav');
  const { octaves = [] } = responseReport({ title: 'part', impulse, gate: 'none' });
  expect(octaves.at(-1)!.centreHz).toBe(8000);
  for (const { signalToNoiseDb } of octaves) expect(signalToNoiseDb).toSatisfy(Number.isFinite);
});

describe('a check of a whole design by a sweep of a part of the band', () => {
  const before = readMeasurement(swept(20, 20_000), 'before.wav', { gate: 'none' });
  const planned = design({
    title: 'whole',
    measurements: [before],
    target: {},
    ...DEFAULT_LIMITS,
    bands: 3,
    effort: 'quick',
  });
  const checked = (filters: readonly Filter[]) => {
    const sections = filters.map((filter) => cookbookCoefficients(filter, rate));
    const after = readMeasurement(swept(150, 8000, [...speaker, ...sections]), 'after.wav', { gate: 'none' });
    const measured = averageMeasurements([after]);
    return verifyDesign({ design: planned, after: measured.curve, seen: measured });
  };

  test('looks no farther than the sweep: silence beyond is no fault', () => {
    expect(checked(planned.filters)).toMatchObject({ asPromised: true, faults: [] });
  });

  test('still sees that the filters do nothing', () => {
    expect(checked([]).faults).toMatchObject([{ type: 'bypassed' }]);
  });
});

test.each(['8000 to 150', '0 to 0'])('a text that says it was swept from %s Hz says nothing', (span) => {
  const rows = Array.from({ length: 40 }, (_, i) => `${20 * 2 ** (i / 4)} 80`);
  const read = readMeasurement(
    new TextEncoder().encode([`# swept: ${span} Hz`, ...rows].join('\n')),
    'a.txt',
  );
  expect(read).not.toHaveProperty('swept');
});
