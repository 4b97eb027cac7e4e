import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import type { Filter } from '../../src/filter/filter.js';
import type { Design } from '../../src/schema/design.js';

// An invented speaker on an invented desk. The "measurement" is a sum of cookbook responses (the speaker's own
// faults), a fourth-order roll-off, one reflection from the wall behind and a ripple of fixed sines.
const SAMPLE_RATE_HZ = 48000;
const FREQUENCY_HZ = Float64Array.from({ length: 480 }, (_, i) => 1000 * 2 ** ((i - 271) / 48));
const RANGE = { fromHz: 55, toHz: 16000 };
const ZONES = [
  { fromHz: 252, toHz: 345 },
  { fromHz: 1530, toHz: 1790 },
];
const LEVEL_DB = 82.4;

const FAULTS: readonly Filter[] = [
  { type: 'peaking', frequencyHz: 63, gainDb: 6.8, q: 4 },
  { type: 'peaking', frequencyHz: 118, gainDb: 4.4, q: 3.5 },
  { type: 'peaking', frequencyHz: 720, gainDb: -2.8, q: 1.1 },
  { type: 'peaking', frequencyHz: 3400, gainDb: 2.6, q: 1.6 },
  { type: 'highShelf', frequencyHz: 8200, gainDb: 1.8, q: 0.71 },
];

const FILTERS: readonly Filter[] = [
  { type: 'peaking', frequencyHz: 63.6, gainDb: -6.7, q: 4.374 },
  { type: 'peaking', frequencyHz: 81.6, gainDb: -1.39, q: 2.35 },
  { type: 'peaking', frequencyHz: 119, gainDb: -5.93, q: 2.931 },
  { type: 'peaking', frequencyHz: 554.8, gainDb: -4.45, q: 1.936 },
  { type: 'peaking', frequencyHz: 670.5, gainDb: 4.82, q: 0.952 },
  { type: 'peaking', frequencyHz: 3312, gainDb: -3.67, q: 2.411 },
  { type: 'highShelf', frequencyHz: 8226.2, gainDb: -1.45, q: 0.784 },
];

const round = (value: number, decimals = 3) => Number(value.toFixed(decimals));

function reflectionDb(frequencyHz: number, delayS: number, strength: number): number {
  const phase = 2 * Math.PI * frequencyHz * delayS;
  return 10 * Math.log10(1 + strength ** 2 + 2 * strength * Math.cos(phase));
}

function measuredDb(): Float64Array {
  const faults = bankResponseDb(FAULTS, SAMPLE_RATE_HZ, FREQUENCY_HZ);
  return faults.map((faultDb, i) => {
    const f = FREQUENCY_HZ[i]!;
    const rolloff = -10 * Math.log10(1 + (54 / f) ** 8);
    const wall = reflectionDb(f, 0.58 / 343.2, 0.5 / (1 + (f / 450) ** 3));
    const desk = reflectionDb(f, 0.1027 / 343.2, 0.22 / (1 + (f / 4000) ** 2));
    const x = Math.log2(f);
    const ripple = 0.5 * Math.sin(37 * x) + 0.35 * Math.sin(61 * x + 1) + 0.3 * Math.sin(97 * x + 2);
    return round(LEVEL_DB + faultDb + rolloff + wall + desk + ripple - 0.3);
  });
}

function smoothed(levelDb: Float64Array): Float64Array {
  return levelDb.map((_, i) => {
    const half = Math.min(2, i, levelDb.length - 1 - i);
    let power = 0;
    for (let k = i - half; k <= i + half; k += 1) power += 10 ** (levelDb[k]! / 10);
    return round(10 * Math.log10(power / (2 * half + 1)));
  });
}

function errorFigures(
  beforeDb: Float64Array,
  eqDb: Float64Array,
  targetDb: Float64Array,
  withZones: boolean,
) {
  let [beforeSum, afterSum, beforeMax, afterMax, count] = [0, 0, 0, 0, 0];
  FREQUENCY_HZ.forEach((f, i) => {
    const inZone = ZONES.some((zone) => f >= zone.fromHz && f <= zone.toHz);
    if (f < RANGE.fromHz || f > RANGE.toHz || (inZone && !withZones)) return;
    const before = beforeDb[i]! - targetDb[i]!;
    const after = before + eqDb[i]!;
    beforeSum += before ** 2;
    afterSum += after ** 2;
    beforeMax = Math.max(beforeMax, Math.abs(before));
    afterMax = Math.max(afterMax, Math.abs(after));
    count += 1;
  });
  return {
    beforeRmsDb: round(Math.sqrt(beforeSum / count)),
    afterRmsDb: round(Math.sqrt(afterSum / count)),
    beforeMaxDb: round(beforeMax),
    afterMaxDb: round(afterMax),
  };
}

/** A realistic design, invented and simulated, for everything that shows one. */
export function sampleDesign(): Design {
  const measured = measuredDb();
  const smooth = smoothed(measured);
  const shelf = bankResponseDb(
    [{ type: 'lowShelf', frequencyHz: 120, gainDb: 3, q: 0.71 }],
    SAMPLE_RATE_HZ,
    FREQUENCY_HZ,
  );
  const target = shelf.map((levelDb) => round(LEVEL_DB + levelDb));
  const eq = bankResponseDb(FILTERS, SAMPLE_RATE_HZ, FREQUENCY_HZ).map((levelDb) => round(levelDb));
  const inRange = [...eq].filter(
    (_, i) => FREQUENCY_HZ[i]! >= RANGE.fromHz && FREQUENCY_HZ[i]! <= RANGE.toHz,
  );
  const maxDb = Math.max(...eq);
  return {
    schemaVersion: 1,
    title: 'Left desk speaker, simulated',
    sampleRateHz: SAMPLE_RATE_HZ,
    inputGainDb: round(-maxDb - 0.005, 2),
    levelDb: LEVEL_DB,
    filters: [...FILTERS],
    range: RANGE,
    rangeExplanation: "Range 55 Hz to 16 kHz: its lower end at the speaker's corner, its upper end as given.",
    cornerHz: 54,
    error: errorFigures(smooth, eq, target, false),
    errorWithZones: errorFigures(smooth, eq, target, true),
    unevenness: { beforeRmsDb: 2.9, afterRmsDb: 0.8 },
    zones: ZONES,
    limits: {
      bands: 8,
      maxBoostDb: 6,
      maxCutDb: 12,
      maxLevelLossDb: 3,
      minQ: 0.4,
      maxQ: 10,
      smoothingOctaves: 1 / 12,
    },
    eq: {
      meanDb: round(inRange.reduce((sum, levelDb) => sum + levelDb, 0) / inRange.length),
      maxDb,
      maxAtHz: round(FREQUENCY_HZ[eq.indexOf(maxDb)]!),
    },
    target: 'flat, bass shelf +3 dB below 120 Hz',
    findings: [
      {
        kind: 'peak',
        frequencyHz: 62.8,
        levelDb: 5.9,
        widthOctaves: 0.31,
        verdict: 'equalize',
        cause: { type: 'roomMode', predictedHz: 61.3 },
        confidence: 0.72,
        evidence: [
          'The set-up file gives a room 2.80 m wide, whose first mode across lies at 61.3 Hz, 2 % below the peak.',
          'Peaks at low frequency stay peaks over a wide area, so a cut serves most seats.',
        ],
      },
      {
        kind: 'peak',
        frequencyHz: 117.6,
        levelDb: 3.8,
        widthOctaves: 0.35,
        verdict: 'equalize',
        cause: { type: 'unknown' },
        confidence: 0.55,
        evidence: ['It stands 3.8 dB over its surroundings and is 0.35 octave wide.'],
      },
      {
        kind: 'dip',
        frequencyHz: 297,
        levelDb: -5.2,
        widthOctaves: 0.4,
        verdict: 'move',
        cause: { type: 'reflection', surface: 'wall behind', predictedHz: 295.9 },
        confidence: 0.9,
        evidence: [
          'The wall behind is 29 cm from the speaker: its reflection travels 58.0 cm further and cancels at 295.9 Hz, 0.4 % from the dip.',
          'The dip is 5.2 dB deep and 0.40 octave wide, as a reflection of relative level 0.34 makes it.',
          'The next cancellation is predicted at 887.6 Hz, where the curve dips by 1.1 dB.',
        ],
        advice:
          'Move the speaker 16 cm further from the wall behind; the dip then goes to 191 Hz and becomes shallower.',
        zone: { fromHz: 252, toHz: 345 },
      },
      {
        kind: 'dip',
        frequencyHz: 792,
        levelDb: -3.1,
        widthOctaves: 0.9,
        verdict: 'equalize',
        cause: { type: 'speaker' },
        confidence: 0.8,
        evidence: ['It is 0.9 octave wide and shallow, and no surface in the set-up cancels near it.'],
      },
      {
        kind: 'dip',
        frequencyHz: 1660,
        levelDb: -1.9,
        widthOctaves: 0.28,
        verdict: 'move',
        cause: { type: 'reflection', surface: 'desk', predictedHz: 1671 },
        confidence: 0.6,
        evidence: [
          'The desk is 18 cm below the speaker: its reflection travels 10.3 cm further and cancels at 1671 Hz.',
        ],
        advice: 'Raise or tilt the speaker, or lay something soft on the desk between it and the microphone.',
        zone: { fromHz: 1530, toHz: 1790 },
      },
      {
        kind: 'peak',
        frequencyHz: 3390,
        levelDb: 2.4,
        widthOctaves: 0.7,
        verdict: 'equalize',
        cause: { type: 'speaker' },
        confidence: 0.77,
        evidence: ['It stays put over the positions and is 0.7 octave wide.'],
      },
      {
        kind: 'dip',
        frequencyHz: 5210,
        levelDb: -0.9,
        widthOctaves: 0.07,
        verdict: 'leave',
        cause: { type: 'unknown' },
        confidence: 0.5,
        evidence: ['It is 0.07 octave wide, too narrow to be heard as colour.'],
      },
      {
        kind: 'peak',
        frequencyHz: 12400,
        levelDb: 0.8,
        widthOctaves: 0.1,
        verdict: 'leave',
        cause: { type: 'unknown' },
        confidence: 0.5,
        evidence: ['It is 0.8 dB high, within what a measurement repeats to.'],
      },
    ],
    warnings: [
      {
        code: 'null-not-boosted',
        message:
          'The dip at 297 Hz is not boosted: the reflection from "wall behind" cancels there. Move the speaker 16 cm further out instead.',
        frequencyHz: 297,
      },
      {
        code: 'headroom-used',
        message: `The filters boost by up to ${maxDb.toFixed(1)} dB; the input gain takes as much away, so the loudest level falls.`,
      },
      { code: 'simulated-data', message: 'The measurement is marked as simulated.' },
    ],
    curves: {
      frequencyHz: [...FREQUENCY_HZ].map((f) => round(f)),
      measuredDb: [...measured],
      smoothedDb: [...smooth],
      targetDb: [...target],
      eqDb: [...eq],
    },
    fit: {
      seed: 1,
      stopReason: 'nothing that was tried lowered the error further',
      iterations: 412,
      limitsReached: [],
    },
  };
}
