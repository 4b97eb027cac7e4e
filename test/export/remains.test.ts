import { describe, expect, test } from 'vitest';
import { errorParts } from '../../src/export/remains/errorParts.js';
import {
  kneeWords,
  leftOverWords,
  positionsWords,
  repeatabilityWords,
} from '../../src/export/remains/remainsWords.js';
import { reportHtml } from '../../src/export/reportHtml.js';
import { summaryText } from '../../src/export/text/summaryText.js';
import type { Design } from '../../src/schema/design.js';
import { sampleDesign } from './sampleDesign.js';

const withError = (
  afterRmsDb: number,
  bound: NonNullable<Design['bound']>,
  more: Partial<Design> = {},
): Design => {
  const plain = sampleDesign();
  return { ...plain, error: { ...plain.error, afterRmsDb }, bound, ...more };
};
const errorAgainstBands = {
  points: [2, 1.4, 1, 0.7, 0.5, 0.48, 0.47, 0.46, 0.455].map((rmsDb, bands) => ({ bands, rmsDb })),
  kneeBands: 4,
};

describe('the parts of the error that is left', () => {
  test('add up as they are written', () => {
    for (const [unavoidable, bands, aim, device] of [
      [0.334, 0.334, 0.333, 0.334],
      [0.005, 0.005, 0.005, 0.005],
      [0.784, 0.194, 0, 0],
      [0.1249, 0.0051, 0.0049, 0.6151],
    ] as const) {
      const afterRmsDb = Number((unavoidable + bands + aim + device).toFixed(3));
      const design = withError(afterRmsDb, {
        unavoidableRmsDb: unavoidable,
        bandsPriceDb: bands,
        aimPriceDb: aim,
        devicePriceDb: device,
      });
      const { total, parts } = errorParts(design);
      const sum = parts.reduce((all, { db }) => all + Math.round(100 * Number(db)), 0);
      expect(sum).toBe(Math.round(100 * Number(total)));
      expect(total).toBe(afterRmsDb.toFixed(2));
    }
  });

  test('are told in the order in which one comes on top of the other', () => {
    const design = withError(
      0.9,
      { unavoidableRmsDb: 0.5, bandsPriceDb: 0.3, devicePriceDb: 0.1 },
      { limits: { ...sampleDesign().limits, bands: 7 } },
    );
    expect(leftOverWords(design)).toMatch(
      /^0\.90 dB RMS = 0\.50 that no number of bands .* \+ 0\.30 for want of more bands \+ 0\.10 for the steps/,
    );
  });

  test('are not blamed on the number of bands where some were left over', () => {
    const design = withError(0.4, { unavoidableRmsDb: 0, bandsPriceDb: 0.4, devicePriceDb: 0 });
    expect(leftOverWords(design)).toMatch(
      /each too little; with more of them no limit .* stands in the way$/,
    );
    const bound = { unavoidableRmsDb: 0.004, bandsPriceDb: 0, devicePriceDb: 0.396 };
    expect(leftOverWords({ ...design, bound })).toMatch(/rounding; no limit on boost .* stands in the way$/);
    expect(leftOverWords({ ...design, limits: { ...design.limits, bands: 7 } })).toMatch(
      /want of more bands/,
    );
  });

  test('are blamed on the number of bands where the device has no more than were used', () => {
    const design = withError(0.4, { unavoidableRmsDb: 0, bandsPriceDb: 0.4, devicePriceDb: 0 });
    const { maxBoostDb, maxCutDb, minQ, maxQ } = design.limits;
    const within = (bands: number) => ({
      ...design,
      limits: { ...design.limits, withDevice: { bands, maxBoostDb, maxCutDb, minQ, maxQ } },
    });
    expect(design.filters.length).toBe(7);
    expect(leftOverWords(within(7))).toMatch(/want of more bands/);
    expect(leftOverWords(within(8))).toMatch(/each too little/);
  });
});

test('the knee is told with what the design and the most bands leave', () => {
  expect(kneeWords({ ...sampleDesign(), errorAgainstBands })).toBe(
    'the knee is at 4 bands, with 0.50 dB RMS left; 7 leave 0.46, 8 leave 0.46. Beyond the knee a band takes away ' +
      'less than a twentieth of the 2.00 dB there are without any',
  );
});

test('that the knee is told before rounding is said where there is a device', () => {
  const design = { ...sampleDesign(), errorAgainstBands };
  const device = { name: 'x', sampleRatesHz: [48000], qConvention: 'cookbook' as const };
  expect(kneeWords(design)).not.toMatch(/device/);
  expect(kneeWords({ ...design, device })).toMatch(
    /without any\. What the equalizer's steps cost comes on top$/,
  );
});

describe('a device with fewer bands than the curve goes on to', () => {
  const device = { name: 'x', sampleRatesHz: [48000], qConvention: 'cookbook' as const };
  const withBands = (deviceBands: number): Design => ({
    ...sampleDesign(),
    device,
    errorAgainstBands: { ...errorAgainstBands, deviceBands },
  });

  test('has a knee beyond them told as such, with what its own bands leave', () => {
    expect(kneeWords(withBands(3))).toMatch(
      /^the knee is at 4 bands, with 0\.50 dB RMS left, but the equalizer has 3; .*3 leave 0\.70, 8 leave 0\.46\./,
    );
    expect(kneeWords(withBands(6))).toMatch(/^the knee is at 4 bands, with 0\.50 dB RMS left; /);
    expect(kneeWords(withBands(6))).toContain(
      'without any. The equalizer has 6: more want another one. What',
    );
    expect(kneeWords(withBands(8))).not.toContain('The equalizer has');
  });

  test('has what lies beyond marked in the drawing', () => {
    const drawn = (design: Design) => reportHtml(design, { plotlySource: '' });
    expect(drawn(withBands(3))).toContain('>More than the equalizer has<');
    expect(drawn(withBands(8))).not.toContain('More than the equalizer has');
  });
});

test('the worst position is named, and what was aimed at', () => {
  const positions = {
    aim: 'worst' as const,
    worstBeforeRmsDb: 3.2,
    worstAfterRmsDb: 1.1,
    each: [
      { name: 'left.txt', beforeRmsDb: 3.2, afterRmsDb: 0.9 },
      { name: 'right.txt', beforeRmsDb: 2.9, afterRmsDb: 1.1 },
    ],
  };
  expect(positionsWords({ ...sampleDesign(), positions })).toMatch(
    /worst of 2 positions goes from 3\.2 to 1\.1 dB .*right\.txt.*worst position was aimed at/,
  );
});

test('bands that were saved for noise are counted, with the reason', () => {
  const repeatability = { db: 0.3, source: 'given' as const, bandsNotSpent: 2, wouldWinDb: 0.03 };
  const design = { ...sampleDesign(), repeatability };
  expect(repeatabilityWords(design)).toMatch(
    /0\.30 dB RMS, as given; 2 bands were not spent: .* 0\.03 dB, no more/,
  );
  expect(summaryText(design)).toContain('2 bands were not spent');
});

describe('the report', () => {
  const page = (design: Design) => reportHtml(design, { plotlySource: '' });

  test('draws the error against the number of bands with the knee marked, and the bound', () => {
    const bound = { unavoidableRmsDb: 0.3, bandsPriceDb: 0.4, devicePriceDb: 0.1 };
    const html = page(withError(0.8, bound, { errorAgainstBands }));
    expect(html).toContain('id="remains"');
    expect(html).toMatch(/<svg[^>]*aria-labelledby="bands-title"/);
    expect(html).toContain('No number of bands gets below 0.30');
    expect(html).toContain('>Knee<');
  });

  test('has no such section where a design says nothing of it', () => {
    expect(page(sampleDesign())).not.toContain('id="remains"');
  });
});
