import { expect, test } from 'vitest';
import type { Finding } from '../../../src/diagnosis/verdict/finding.js';
import { protectedZones } from '../../../src/diagnosis/verdict/protectedZones.js';

const dip = (verdict: Finding['verdict'], fromHz: number, toHz: number): Finding => ({
  kind: 'dip',
  frequencyHz: Math.sqrt(fromHz * toHz),
  levelDb: -5,
  widthOctaves: 0.2,
  verdict,
  cause: { type: 'unknown' },
  confidence: 0.7,
  evidence: [],
  ...(verdict !== 'equalize' && { zone: { fromHz, toHz } }),
});
const move = (fromHz: number, toHz: number) => ({ fromHz, toHz, verdict: 'move' });
const leave = (fromHz: number, toHz: number) => ({ fromHz, toHz, verdict: 'leave' });

test('spans of one verdict that overlap or touch become one, ascending; what is mended has none', () => {
  expect(
    protectedZones([
      dip('leave', 4000, 5000),
      dip('move', 300, 400),
      dip('equalize', 600, 700),
      dip('move', 350, 500),
      dip('leave', 5000, 6000),
    ]),
  ).toEqual([move(300, 500), leave(4000, 6000)]);
});

test('where two verdicts meet, that of moving keeps its whole span', () => {
  expect(protectedZones([dip('leave', 200, 500), dip('move', 400, 800)])).toEqual([
    leave(200, 400),
    move(400, 800),
  ]);
  expect(protectedZones([dip('leave', 200, 900), dip('move', 300, 400), dip('move', 500, 600)])).toEqual([
    leave(200, 300),
    move(300, 400),
    leave(400, 500),
    move(500, 600),
    leave(600, 900),
  ]);
  expect(protectedZones([dip('leave', 300, 400), dip('move', 200, 900)])).toEqual([move(200, 900)]);
});
