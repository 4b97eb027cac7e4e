import { expect, test } from 'vitest';
import { summaryText } from '../../../src/export/text/summaryText.js';
import { hostileDesign } from '../hostileDesign.js';
import { sampleDesign } from '../sampleDesign.js';

/** The lines as they were before they were wrapped. */
const unwrapped = (text: string) => text.replace(/\n {2}(?=\S)/g, ' ').split('\n');

test('plain words come first, then the filters, then the warnings', () => {
  const design = sampleDesign();
  const text = summaryText(design);
  const places = [
    'bring the unevenness down',
    'Left alone',
    'Frequency (Hz)',
    'Warnings',
    'null-not-boosted',
  ].map((part) => text.indexOf(part));
  expect(places.every((place) => place > 0)).toBe(true);
  expect([...places].sort((a, b) => a - b)).toEqual(places);
});

test('it tells error before and after, bands used of allowed and the most boost', () => {
  const text = summaryText({
    ...sampleDesign(),
    error: { beforeRmsDb: 3.94, afterRmsDb: 0.81, beforeMaxDb: 9.1, afterMaxDb: 2.2 },
    eq: { meanDb: -1, maxDb: 4.21, maxAtHz: 118 },
  });
  expect(text).toContain(
    "3.9 dB RMS before, 0.8 dB after, about the target's level (greatest 9.1 and 2.2 dB)",
  );
  expect(text).toContain('7 used of 8 allowed');
  expect(text).toContain("Range:      55 Hz to 16 kHz: its lower end at the speaker's corner");
  expect(text).toContain('Most boost: 4.2 dB at 118 Hz, of 6.0 dB allowed');
});

test('it tells what is left of the error with the spans left alone, where there are any', () => {
  const design = {
    ...sampleDesign(),
    errorWithZones: { beforeRmsDb: 4.24, afterRmsDb: 3.51, beforeMaxDb: 13.6, afterMaxDb: 14.4 },
  };
  expect(summaryText(design).replace(/\s+/g, ' ')).toContain(
    'All of it: 4.2 dB RMS before, 3.5 dB after, spans left alone counted too (greatest 13.6 and 14.4 dB)',
  );
  expect(summaryText({ ...design, zones: [] })).not.toContain('All of it');
});

test('it tells in words which limits the filters touch, where they do', () => {
  const design = sampleDesign();
  expect(summaryText(design)).not.toContain('At limits');
  const limitsReached = ['filters[3].q at min', 'filters[0].gainDb at max', 'level loss at its limit'];
  expect(summaryText({ ...design, fit: { ...design.fit, limitsReached } }).replace(/\s+/g, ' ')).toContain(
    ' At limits: Filter 4: Q at its least; filter 1: gain at its greatest; mean of the EQ over the range: as low as allowed ',
  );
});

test('sharp shelves are told of with the option that keeps them gentle, unless a limit was asked for', () => {
  const shelf = (q: number) => ({ type: 'highShelf' as const, frequencyHz: 4000, gainDb: 2, q });
  const text = (qs: readonly number[], maxShelfQ?: number) => {
    const { limits, ...design } = sampleDesign();
    const asked = { ...limits, ...(maxShelfQ !== undefined && { maxShelfQ }) };
    return summaryText({ ...design, limits: asked, filters: qs.map(shelf) }).replace(/\s+/g, ' ');
  };
  expect(text([3, 0.7])).toMatch(/one of them is a shelf sharper than Q 1,.*--shelf-q-max 0\.71/);
  expect(text([3, 1.2])).toContain('2 of them are shelves sharper than Q 1');
  expect(text([1, 0.7])).not.toContain('sharper');
  expect(text([3, 1.2], 4)).not.toContain('sharper');
});

test('each feature that wants moving has one line with what to do', () => {
  const lines = unwrapped(summaryText(sampleDesign())).filter((line) => line.startsWith('- dip'));
  expect(lines).toHaveLength(2);
  expect(lines[0]).toMatch(
    /dip at 297 Hz, -5\.2 dB, reflection from "wall behind".*: Move the speaker 16 cm/,
  );
  expect(lines[1]).toMatch(/dip at 1\.66 kHz.*"desk".*: Raise or tilt/);
});

test('what the same advice holds for is told in one line, and the warnings do not say it again', () => {
  const { findings, warnings, ...design } = sampleDesign();
  const advice = 'Move something by 10 to 20 cm.';
  const dips = [190, 310, 590].map((frequencyHz) => ({
    ...findings.find(({ verdict }) => verdict === 'move')!,
    frequencyHz,
    levelDb: -frequencyHz / 100,
    cause: { type: 'reflection' as const, predictedHz: 1.1 * frequencyHz },
    advice,
  }));
  const told = dips.map(({ frequencyHz }) => ({
    code: 'null-not-boosted',
    message: `The dip at ${frequencyHz} Hz is not boosted. ${advice}`,
    frequencyHz,
  }));
  const others = warnings.filter(({ code }) => code !== 'null-not-boosted');
  const text = (count: number) =>
    summaryText({
      ...design,
      findings: dips.slice(0, count),
      warnings: [...told.slice(0, count), ...others],
    });
  const lines = unwrapped(text(3));
  expect(lines).toContain(
    `- dips at 190 Hz (-1.9 dB), 310 Hz (-3.1 dB) and 590 Hz (-5.9 dB), reflection: ${advice}`,
  );
  expect(lines.filter((line) => line.includes('null-not-boosted'))).toHaveLength(1);
  expect(lines.filter((line) => line.includes(advice))).toHaveLength(1);
  for (const { code } of others) expect(text(3)).toContain(`[${code}]`);
  expect(text(1).replace(/\s+/g, ' ')).toContain('The dip at 190 Hz is not boosted.');
});

test('dips of one surface stand in one line with one forecast, that of the deepest', () => {
  const { findings, ...design } = sampleDesign();
  const wall = findings.find(({ verdict }) => verdict === 'move')!;
  const desk = { type: 'reflection' as const, surface: 'desk', predictedHz: 1200 };
  const dips = [
    { ...wall, frequencyHz: 888, levelDb: -8.2, cause: desk, advice: 'Goes to 373 Hz.' },
    { ...wall, frequencyHz: 1300, levelDb: -14.4, cause: desk, advice: 'Goes to 430 Hz.' },
    { ...wall, frequencyHz: 1030, levelDb: -10.8, cause: desk, advice: 'Goes to 395 Hz.' },
  ];
  const lines = unwrapped(summaryText({ ...design, findings: [wall, ...dips] }));
  expect(lines.filter((line) => line.startsWith('- dip'))).toEqual([
    expect.stringMatching(/^- dip at 297 Hz.*"wall behind"/),
    '- dips at 888 Hz (-8.2 dB), 1.03 kHz (-10.8 dB) and 1.3 kHz (-14.4 dB), reflection from "desk": ' +
      'For the deepest of them, at 1.3 kHz: Goes to 430 Hz.',
  ]);
});

test('a cut-only design says that there is no boost', () => {
  expect(summaryText({ ...sampleDesign(), eq: { meanDb: -1, maxDb: 0, maxAtHz: 20 } })).toContain(
    'Most boost: none, of 6.0 dB allowed',
  );
});

test('nothing from a file reaches the terminal as a control character', () => {
  expect(summaryText(hostileDesign())).not.toMatch(/[^\P{Cc}\n]|\p{Surrogate}|\u202e/u);
});
