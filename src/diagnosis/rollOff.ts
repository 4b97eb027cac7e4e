import { type Box, boxLevelDb, boxSlopeDbPerOctave, sealedCornerHz } from '../acoustics/boxRolloff.js';
import type { Curve, FrequencyRange } from '../curve/curve.js';
import { pow2 } from '../elementary/exponential.js';

/** The box that best describes how the low end falls. */
export interface RollOff {
  readonly box: Box;
  /** 3 dB below the pass band. */
  readonly cornerHz: number;
  readonly slopeDbPerOctave: number;
  /** Level of the box relative to its pass band at each point of the curve. */
  readonly levelDb: Float64Array;
  /** Typical (median) deviation of the curve from it below four times the corner. */
  readonly deviationDb: number;
}

/** The pass band that the fall is held against ends here. */
const PASS_TO_HZ = 1000;
/** Deeper than this under the pass band a measurement shows its noise rather than the speaker. */
const FLOOR_DB = -26;
/** Levels farther from the model count in proportion and no longer as squares: room resonances and nulls. */
const HUBER_DB = 2;
const STEPS_PER_OCTAVE = 12;

/** Q of the two second-order sections of vented alignments: Butterworth, flatter and more rippled ones. */
const ventedQ: readonly (readonly [number, number])[] = [
  [0.541, 1.307],
  [0.5, 0.8],
  [0.6, 1.7],
];
const sealedQ = [0.5, 0.577, Math.SQRT1_2, 0.85, 1.0, 1.3];

/**
 * Fits closed boxes (12 dB per octave) and vented ones (24 dB per octave) to the low end of a curve.
 *
 * @returns nothing where the data do not show the speaker's fall
 */
export function fitRollOff(curve: Curve, range: FrequencyRange): RollOff | undefined {
  const { frequencyHz, levelDb } = curve;
  const from = frequencyHz.findIndex((f) => f >= range.fromHz / 2.5);
  const to = frequencyHz.findLastIndex((f) => f <= PASS_TO_HZ);
  if (from < 0 || to - from < 24 || frequencyHz[from]! > 0.9 * range.fromHz) return undefined;
  const part = { frequencyHz: frequencyHz.slice(from, to + 1), levelDb: levelDb.slice(from, to + 1) };

  let best: { box: Box; cost: number } | undefined;
  const flat = misfit(part, new Float64Array(part.frequencyHz.length));
  for (let step = -2 * STEPS_PER_OCTAVE; step <= 2 * STEPS_PER_OCTAVE; step++) {
    const hz = range.fromHz * pow2(step / STEPS_PER_OCTAVE);
    for (const box of boxesAt(hz)) {
      const cost = misfit(
        part,
        part.frequencyHz.map((f) => boxLevelDb(f, box)),
      );
      if (!best || cost < best.cost) best = { box, cost };
    }
  }
  if (!best || best.cost > 0.8 * flat) return undefined;
  const { box } = best;
  const model = frequencyHz.map((f) => boxLevelDb(f, box));
  const cornerHz = box.kind === 'sealed' ? sealedCornerHz(box) : ventedCornerHz(box);
  const level = passLevel(
    part,
    part.frequencyHz.map((f) => boxLevelDb(f, box)),
  );
  const near = Array.from(part.frequencyHz.keys()).filter((i) => part.frequencyHz[i]! < 4 * cornerHz);
  const deviations = near.map((i) =>
    Math.abs(part.levelDb[i]! - level - boxLevelDb(part.frequencyHz[i]!, box)),
  );
  deviations.sort((a, b) => a - b);
  return {
    box,
    cornerHz,
    slopeDbPerOctave: boxSlopeDbPerOctave(box),
    levelDb: model,
    deviationDb: deviations[deviations.length >> 1] ?? 0,
  };
}

function boxesAt(hz: number): Box[] {
  const sealed = sealedQ.map((qtc): Box => ({ kind: 'sealed', resonanceHz: hz, qtc }));
  const vented = ventedQ.map(([q1, q2]): Box => {
    const [d1, d2] = [1 / q1, 1 / q2];
    return { kind: 'vented', cornerHz: hz, coefficients: [d1 + d2, 2 + d1 * d2, d1 + d2] };
  });
  return [...sealed, ...vented];
}

/** Huber's cost per point about the best level, with the part that is lost in noise left out. */
function misfit(part: Curve, model: Float64Array): number {
  const level = passLevel(part, model);
  let sum = 0;
  let count = 0;
  for (let i = 0; i < model.length; i++) {
    const measured = part.levelDb[i]! - level;
    if (measured < FLOOR_DB && model[i]! < FLOOR_DB) continue;
    const d = Math.abs(measured - model[i]!);
    sum += d < HUBER_DB ? d * d : HUBER_DB * (2 * d - HUBER_DB);
    count++;
  }
  return sum / count;
}

/** Median of what is left over the model's pass band. */
function passLevel(part: Curve, model: Float64Array): number {
  const above = part.levelDb.map((l, i) => l - model[i]!).filter((_, i) => model[i]! > -6);
  const sorted = above.sort();
  return sorted[sorted.length >> 1] ?? 0;
}

/** Where a vented box is 3 dB down, by halving. */
function ventedCornerHz(box: Box & { kind: 'vented' }): number {
  let [low, high] = [box.cornerHz / 4, box.cornerHz * 4];
  for (let i = 0; i < 40; i++) {
    const middle = Math.sqrt(low * high);
    if (boxLevelDb(middle, box) < -3.0103) low = middle;
    else high = middle;
  }
  return high;
}
