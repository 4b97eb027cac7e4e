import { describe, expect, test } from 'vitest';
import type { Setup } from '../../../src/acoustics/setup.js';
import { predictionJson } from '../../../src/export/json/predictionJson.js';
import { predictionSvg } from '../../../src/export/plot/predictionSvg.js';
import { predictionCsv } from '../../../src/export/tables/predictionCsv.js';
import { predictionText } from '../../../src/export/text/predictionText.js';
import type { VariedSpan } from '../../../src/whatIf/placementSteps.js';
import { predictionReport } from '../../../src/whatIf/predictionReport.js';

const length = (m: number, toleranceM = 0) => ({ m, toleranceM });
const setup: Setup = {
  temperatureC: 20,
  microphoneDistance: length(1),
  baffleWidthM: 0.17,
  surfaces: [
    { name: 'wall behind', speakerDistance: length(0.25, 0.01), microphoneDistance: length(1.25, 0.01) },
    { name: 'side <wall> & "door"', speakerDistance: length(0.9), microphoneDistance: length(1) },
  ],
  room: { lengthM: 4.2, widthM: 3.1, heightM: 2.4 },
  lengthUnit: 'cm',
};
const report = (varied: readonly VariedSpan[] = [], given = setup) =>
  predictionReport({ title: 'simulated: two walls', setup: given, varied, microphone: 'along' });
const behind = { surface: 'wall behind', fromM: 0.1, toM: 1 };
const aside = { surface: setup.surfaces[1]!.name, fromM: 0.5, toM: 1, stepM: 0.25 };

describe('predictionText', () => {
  test('fits a terminal of 80 columns, whatever is varied', () => {
    for (const varied of [[], [behind], [behind, aside]]) {
      for (const line of predictionText(report(varied)).split('\n'))
        expect(line.length).toBeLessThanOrEqual(80);
    }
  });

  test('names each surface with its first cancellation, the room, and what it cannot know', () => {
    const text = predictionText(report());
    expect(text).toMatch(/wall behind +50 cm +343 Hz/);
    expect(text).toContain('The room rings at 41, 55, 72');
    expect(text).toContain('What this cannot know');
  });

  test('shows where the speaker stands now among the varied distances', () => {
    expect(predictionText(report([behind]))).toMatch(/\n +25 cm +\d.*<- now/);
  });

  test('lists no distance twice, also where the speaker stands on one of them', () => {
    for (const stepM of [0.05, 0.0499, 0.03]) {
      const text = predictionText(report([{ ...behind, fromM: 0.15, toM: 0.4, stepM }]));
      const distances = [...text.matchAll(/^ +([\d.]+ cm) +[\d.]+ k?Hz +[\d.]+ dB/gm)].map(([, cm]) => cm);
      expect(distances.length).toBeGreaterThan(4);
      expect(distances).toEqual([...new Set(distances)]);
      expect(text).toMatch(/\n +25 cm +\d.*<- now/);
    }
  });

  test('says without a measurement that distances alone name no best place', () => {
    expect(predictionText(report([behind])).replace(/\s+/g, ' ')).toContain(
      'not which place is best on the whole',
    );
  });

  test('says how a forecast goes with what findings advise', () => {
    const prediction = report([behind]);
    const rated = (speakerDistanceM: number, remainingErrorRmsDb: number, gainDb: number) => {
      const place = prediction.varied!.find((p) => Math.abs(p.speakerDistanceM - speakerDistanceM) < 1e-6)!;
      return { ...place, errorRmsDb: 4, remainingErrorRmsDb, gainDb };
    };
    const now = rated(0.25, 2, 0);
    const text = (best: number, advised: number) =>
      predictionText({
        ...prediction,
        levels: 'measured',
        now,
        varied: prediction.varied!.map((p) => (p.speakerDistanceM === 0.25 ? now : p)),
        best: [rated(0.15, best, 2 - best)],
        advised: [rated(0.45, advised, 2 - advised)],
      }).replace(/\s+/g, ' ');
    // Unevenness is about a mean level of its own, and JSON gives that beside it.
    expect(now.errorRmsDb).not.toBe(now.unevennessDb);
    expect(text(1.2, 2.6)).toMatch(/ Error With EQ .* 25 cm .* 4\.0 dB 2\.0 dB <- now/);
    expect(text(1.2, 2.6)).toMatch(/ Error: RMS about the target/);
    expect(text(1.2, 2.6)).toMatch(
      /Best: 15 cm .* At 45 cm .* 2\.6 dB \(0\.6 dB worse .*\), 1\.4 dB more than at the best place/,
    );
    expect(text(1.2, 1.25)).toContain('as good as the best place');
    expect(text(1.95, 2.6)).toMatch(/Nowhere in this span .*\(0\.6 dB worse than where it stands now\)\./);
  });

  test('says that nothing cancels where no surface is named', () => {
    expect(predictionText(report([], { ...setup, surfaces: [] }))).toContain('names no surfaces');
  });

  test('warns of distances that cannot all be true', () => {
    const [wall] = setup.surfaces;
    const surfaces = [{ ...wall!, microphoneDistance: length(1.6) }];
    expect(predictionText(report([], { ...setup, surfaces }))).toContain('[distances-disagree]');
  });
});

describe('predictionJson', () => {
  test('has the agreed fields', () => {
    const plain = JSON.parse(predictionJson(report())) as Record<string, unknown>;
    expect(plain.schemaVersion).toBe(1);
    expect(plain.varied).toBeUndefined();
    expect(plain.surfaces).toMatchObject([{ name: 'wall behind', pathDifferenceM: 0.5 }, {}]);
    const { varied } = JSON.parse(predictionJson(report([behind]))) as ReturnType<typeof report>;
    expect(varied!.map((p) => p.speakerDistanceM)).toEqual(
      Array.from({ length: 19 }, (_, i) => Number((0.1 + 0.05 * i).toFixed(4))),
    );
    for (const { speakerDistanceM, cancellationsHz } of varied!) {
      expect(cancellationsHz[0]! * 4 * speakerDistanceM).toBeCloseTo(343.2, 1);
    }
  });

  test('leaves out places where nothing can stand, and says so', () => {
    const { varied, warnings } = predictionReport({
      title: 'simulated',
      setup,
      varied: [{ surface: 'wall behind', fromM: 0.5, toM: 1.5, stepM: 0.25 }],
      microphone: 'stays',
    });
    expect(varied!.map((p) => p.speakerDistanceM)).toEqual([0.5, 0.75, 1]);
    expect(warnings).toMatchObject([{ code: 'places-left-out' }]);
  });

  test('varies two surfaces in every combination', () => {
    const { varied, variedSurfaces } = report([{ ...behind, stepM: 0.45 }, aside]);
    expect(variedSurfaces).toEqual(['wall behind', aside.surface]);
    expect(varied!.map((p) => p.surfaces.map((s) => s.speakerDistanceM))).toEqual(
      [0.1, 0.55, 1].flatMap((a) => [0.5, 0.75, 1].map((b) => [a, b])),
    );
  });
});

describe('prediction.svg and prediction.csv', () => {
  test('are whole and safe whatever a surface is called', () => {
    for (const varied of [[], [behind], [behind, aside]]) {
      const svg = predictionSvg(report(varied));
      expect(svg).toMatch(/^<svg [\s\S]*<\/svg>\n$/);
      expect(svg).not.toContain('<wall>');
      expect(svg).not.toMatch(/NaN|undefined|Infinity/);
    }
    expect(predictionCsv(report())).toContain('"side <wall> & ""door"""');
  });

  test('have a row for every place and frequency', () => {
    const prediction = report([behind]);
    const rows = predictionCsv(prediction).trim().split('\r\n');
    const places = prediction.varied!.length + 1;
    expect(rows.length).toBe(1 + places * prediction.curves!.frequencyHz.length);
  });
});
