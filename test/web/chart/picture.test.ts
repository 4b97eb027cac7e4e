import { expect, test } from 'vitest';
import type { Shows } from '../../../web/chart/chartState.js';
import type { Colors } from '../../../web/chart/figure.js';
import { picture } from '../../../web/chart/picture.js';
import { crowded } from '../../export/crowded.js';

const shows: Shows = {
  raw: true,
  smoothed: true,
  target: true,
  expected: true,
  sum: true,
  single: false,
  mask: true,
};
const colors = new Proxy({}, { get: () => '#000' }) as Colors;
const view = { fromHz: 20, toHz: 20000, lowDb: 60, highDb: 95, eqLowDb: -12, eqHighDb: 9 };

interface Layout {
  readonly margin: { readonly l: number; readonly r: number; readonly t: number; readonly b: number };
  readonly xaxis: { readonly range: readonly [number, number] };
  readonly yaxis: { readonly range: readonly [number, number]; readonly domain: readonly [number, number] };
  readonly annotations: readonly { readonly x: number; readonly y: number; readonly yshift?: number }[];
}

test('in a picture to save no number of a finding hides another, and all stay in their panel', () => {
  const { width, height, layout } = picture({ design: crowded() }, view, shows, colors);
  const { margin, xaxis, yaxis, annotations } = layout as unknown as Layout;
  const along = (value: number, [from, to]: readonly [number, number]) => (value - from) / (to - from);
  const inner = { width: width - margin.l - margin.r, height: height - margin.t - margin.b };
  const panel = (yaxis.domain[1] - yaxis.domain[0]) * inner.height;
  const places = annotations.map(({ x, y, yshift = 0 }) => ({
    x: along(x, xaxis.range) * inner.width,
    y: along(y, yaxis.range) * panel + yshift,
  }));
  expect(places.length).toBeGreaterThan(8);
  places.forEach((a, i) => {
    expect(a.y).toBeGreaterThan(0);
    expect(a.y).toBeLessThan(panel);
    for (const b of places.slice(i + 1)) expect(Math.hypot(a.x - b.x, a.y - b.y)).toBeGreaterThan(22);
  });
});

test('a picture to save has what was measured again, where there is something', () => {
  const { frequencyHz, smoothedDb: measuredDb } = crowded().curves;
  const names = (drawn: Parameters<typeof picture>[0]) =>
    picture(drawn, view, shows, colors).data.map((trace) => (trace as { name?: string }).name);
  expect(names({ design: crowded(), again: { frequencyHz, measuredDb } })).toContain('Measured again');
  expect(names({ design: crowded() })).not.toContain('Measured again');
});
