import { expect, test } from 'vitest';
import { plotFigure } from '../../../src/export/report/plotFigure.js';
import { sampleDesign } from '../sampleDesign.js';

test('spans left alone that touch bear one word, all others one each', () => {
  const labels = (zones: { readonly fromHz: number; readonly toHz: number }[]) =>
    (plotFigure({ ...sampleDesign(), zones }).layout.annotations as { readonly x: number }[]).map(({ x }) =>
      Math.round(10 ** x),
    );
  const apart = { fromHz: 250, toHz: 360 };
  expect(labels([{ fromHz: 1600, toHz: 2500 }, apart, { fromHz: 900, toHz: 1600 }])).toEqual([300, 1500]);
  expect(labels([apart, { fromHz: 900, toHz: 1600 }])).toEqual([300, 1200]);
});
