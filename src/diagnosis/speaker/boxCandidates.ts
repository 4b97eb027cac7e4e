import { type Box, boxCornerHz } from '../../acoustics/boxRolloff.js';
import { pow2 } from '../../elementary/exponential.js';

/** A box that may be behind a fall. */
export interface BoxCandidate {
  readonly box: Box;
  /** 3 dB down. */
  readonly cornerHz: number;
  /** How probable the shape is before anything is measured; they sum to 2 at each corner, closed and vented alike. */
  readonly prior: number;
}

export const CORNERS_PER_OCTAVE = 24;

const sealedQ = [0.5, 0.55, 0.6, 0.65, Math.SQRT1_2, 0.78, 0.86, 0.95, 1.05, 1.2];
/** Q of the two second-order sections of vented alignments: Butterworth, flatter and more rippled ones. */
const ventedQ: readonly (readonly [number, number])[] = [
  [0.541, 1.307],
  [0.5, 0.8],
  [0.6, 1.0],
  [0.5, 1.0],
  [0.5, 1.5],
  [0.6, 1.6],
  [0.68, 1.3],
];
const SHAPES: readonly BoxCandidate[] = [
  ...sealedQ.map((qtc) => candidate({ kind: 'sealed', resonanceHz: 1, qtc }, sealedQ.length)),
  ...ventedQ.map(([q1, q2]) => {
    const [d1, d2] = [1 / q1, 1 / q2];
    return candidate(
      { kind: 'vented', cornerHz: 1, coefficients: [d1 + d2, 2 + d1 * d2, d1 + d2] },
      ventedQ.length,
    );
  }),
];

function candidate(box: Box, ofAKind: number): BoxCandidate {
  return { box, cornerHz: boxCornerHz(box), prior: 1 / ofAKind };
}

/** Boxes with their corners from one frequency to another, corner by corner, ascending. */
export function boxCandidates(fromHz: number, toHz: number): BoxCandidate[] {
  const found: BoxCandidate[] = [];
  for (let step = 0; ; step++) {
    const cornerHz = fromHz * pow2(step / CORNERS_PER_OCTAVE);
    if (cornerHz > toHz) return found;
    for (const shape of SHAPES) {
      found.push({ box: scaled(shape.box, cornerHz / shape.cornerHz), cornerHz, prior: shape.prior });
    }
  }
}

function scaled(box: Box, by: number): Box {
  return box.kind === 'sealed'
    ? { ...box, resonanceHz: box.resonanceHz * by }
    : { ...box, cornerHz: box.cornerHz * by };
}
