import type { Finding } from '../../src/diagnosis/verdict/finding.js';
import type { EvaluationCase } from './evaluationCase.js';

/** Counts that add up over cases. */
export interface Score {
  deep: number;
  deepFound: number;
  deepRightSurface: number;
  deepMainSurface: number;
  moves: number;
  movesTrue: number;
  movesTrueStrict: number;
  own: number;
  ownMoved: number;
  ownDeep: number;
  ownDeepMoved: number;
  zonedOctaves: number;
  /** Confidence of each `move`, and whether it was true. */
  calibration: { confidence: number; right: boolean }[];
}

export const DEEP_DB = 4;
export const BAND = { fromHz: 60, toHz: 1500 };
const NEAR = 0.06;

export function emptyScore(): Score {
  return {
    deep: 0,
    deepFound: 0,
    deepRightSurface: 0,
    deepMainSurface: 0,
    moves: 0,
    movesTrue: 0,
    movesTrueStrict: 0,
    own: 0,
    ownMoved: 0,
    ownDeep: 0,
    ownDeepMoved: 0,
    zonedOctaves: 0,
    calibration: [],
  };
}

const near = (a: number, b: number): boolean => Math.abs(a / b - 1) <= NEAR;

export function addScore(score: Score, sample: EvaluationCase, findings: readonly Finding[]): void {
  const { range } = sample.input;
  const moves = findings.filter((f) => f.verdict === 'move');
  for (const c of sample.cancellations) {
    if (
      c.depthDb < DEEP_DB ||
      c.frequencyHz < Math.max(BAND.fromHz, range.fromHz) ||
      c.frequencyHz > BAND.toHz
    )
      continue;
    score.deep++;
    const found = moves.filter((f) => near(f.frequencyHz, c.frequencyHz));
    if (found.length === 0) continue;
    score.deepFound++;
    if (found.some((f) => f.cause.surface !== undefined && c.surfaces.includes(f.cause.surface)))
      score.deepRightSurface++;
    if (found.some((f) => f.cause.surface !== undefined && f.cause.surface === c.surfaces[0]))
      score.deepMainSurface++;
  }
  for (const f of moves) {
    const truths = sample.cancellations.filter((c) => near(f.frequencyHz, c.frequencyHz));
    const right = truths.length > 0;
    score.moves++;
    if (right) score.movesTrue++;
    if (truths.some((c) => c.depthDb >= 3)) score.movesTrueStrict++;
    score.calibration.push({ confidence: f.confidence, right });
    if (f.zone) score.zonedOctaves += Math.log2(f.zone.toHz / f.zone.fromHz);
  }
  for (const r of sample.resonances) {
    const inside = sample.cancellations.some(
      (c) => r.frequencyHz > c.fromHz / 1.06 && r.frequencyHz < c.toHz * 1.06,
    );
    if (inside || r.frequencyHz < range.fromHz || r.frequencyHz > range.toHz) continue;
    const called = moves.some((f) => near(f.frequencyHz, r.frequencyHz));
    score.own++;
    if (called) score.ownMoved++;
    if (r.gainDb < -2) {
      score.ownDeep++;
      if (called) score.ownDeepMoved++;
    }
  }
}
