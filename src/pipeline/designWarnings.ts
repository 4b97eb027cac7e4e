import type { FrequencyRange } from '../curve/curve.js';
import { isInside } from '../curve/isInside.js';
import { weightedMean } from '../curve/weightedMean.js';
import { tenths } from '../diagnosis/evidence/tenths.js';
import type { Finding } from '../diagnosis/verdict/finding.js';
import { log2 } from '../elementary/logarithm.js';
import type { Filter } from '../filter/filter.js';
import { formatFrequency } from '../units/formatFrequency.js';
import type { Warning } from '../warning.js';
import type { DesignRequest } from './designRequest.js';
import { countedWeights } from './errorFigures.js';
import { narrowBoosts } from './narrowBoosts.js';
import { roundDb } from './rounding.js';
import { AUDIBLE_BOOST_DB } from './speakerCorner.js';
import { trebleBoost } from './trebleBoost.js';

/** What the numbers of a finished design say that the user should know. */
export interface DesignFacts {
  readonly findings: readonly Finding[];
  readonly zones: readonly FrequencyRange[];
  readonly cornerHz?: number;
  readonly inputGainDb: number;
  readonly maxBoostDb: number;
  readonly maxLevelLossDb: number;
  /** Mean of the EQ over the range. */
  readonly meanDb: number;
  /** Greatest sum of the EQ below the corner. */
  readonly belowCornerDb: number;
  readonly frequencyHz: Float64Array;
  readonly eqDb: Float64Array;
  readonly filters: readonly Filter[];
  /** What remains: measurement + EQ − target. */
  readonly remainingDb: Float64Array;
}

const CODES = [
  'null-not-boosted',
  'boost-below-corner',
  'corner-in-room',
  'bass-boost',
  'narrow-boost',
  'boost-on-treble-fall',
  'target-out-of-reach',
  'level-out-of-reach',
  'level-loss-at-limit',
  'headroom-used',
  'zone-boosted-by-hand',
  'boost-beyond-limit',
];

/** Whether a warning speaks of the filters of a design, and so does not outlive a change of them. */
export function isDesignWarning({ code }: Warning): boolean {
  return CODES.includes(code);
}

const OUT_OF_REACH_DB = 2;
const OUT_OF_REACH_OCTAVES = 1 / 6;
/** A chosen level leaves no mean at all, one asked for a little where limits press. */
const LEVEL_OUT_OF_REACH_DB = 3;

export function designWarnings(facts: DesignFacts): Warning[] {
  return [
    ...facts.findings.flatMap(nullNotBoosted),
    ...boostBelowCorner(facts),
    ...narrowBoosts(facts.frequencyHz, facts.eqDb, facts.findings, facts.filters),
    ...trebleBoost(facts.frequencyHz, facts.eqDb, facts.remainingDb),
    ...outOfReach(facts),
    ...levelOutOfReach(facts),
    ...levelLoss(facts),
    ...headroom(facts),
  ];
}

/** What was asked for and has no meaning with these measurements. */
export function requestWarnings({
  aim,
  measurements,
}: Pick<DesignRequest, 'aim' | 'measurements'>): Warning[] {
  if (aim !== 'worst' || measurements.length > 1) return [];
  return [
    {
      code: 'one-position',
      message:
        'The worst position was to be served, but there is only one: the fit is as for the average. ' +
        'Measure at several places to choose between them.',
    },
  ];
}

function nullNotBoosted(finding: Finding): Warning[] {
  if (finding.verdict !== 'move' || finding.kind !== 'dip') return [];
  const { surface } = finding.cause;
  const cause = surface === undefined ? 'a cancellation' : `a cancellation by "${surface}"`;
  return [
    {
      code: 'null-not-boosted',
      message:
        `The dip of ${tenths(finding.levelDb).replace('-', '−')} dB at ${formatFrequency(finding.frequencyHz)} is not boosted: it is taken for ` +
        `${cause}, which a boost only drives harder. ` +
        (finding.advice ?? 'Move the speaker or the microphone and measure again.'),
      frequencyHz: finding.frequencyHz,
    },
  ];
}

function boostBelowCorner({ cornerHz, belowCornerDb }: DesignFacts): Warning[] {
  if (cornerHz === undefined || belowCornerDb <= AUDIBLE_BOOST_DB) return [];
  return [
    {
      code: 'boost-below-corner',
      message:
        `The EQ boosts by up to ${fixed(belowCornerDb)} dB below the speaker's corner at ${formatFrequency(cornerHz)}. ` +
        'Each octave down takes four times the excursion for the same level: keep to the level that the maker rates, ' +
        'or take the boost back.',
      frequencyHz: cornerHz,
    },
  ];
}

/** A stretch that stays too low although the EQ gives all that it may. */
function outOfReach(facts: DesignFacts): Warning[] {
  const { frequencyHz, eqDb, remainingDb, maxBoostDb, zones } = facts;
  let worst: { from: number; to: number; missingDb: number } | undefined;
  let start = -1;
  for (let i = 0; i <= frequencyHz.length; i++) {
    const short =
      i < frequencyHz.length &&
      remainingDb[i]! < -OUT_OF_REACH_DB &&
      eqDb[i]! > maxBoostDb - 0.5 &&
      !isInside(frequencyHz[i]!, zones);
    if (short && start < 0) start = i;
    if (!short && start >= 0) {
      const from = frequencyHz[start]!;
      const to = frequencyHz[i - 1]!;
      const missingDb = -Math.min(...remainingDb.subarray(start, i));
      if (log2(to / from) >= OUT_OF_REACH_OCTAVES && missingDb > (worst?.missingDb ?? 0)) {
        worst = { from, to, missingDb };
      }
      start = -1;
    }
  }
  if (!worst) return [];
  return [
    {
      code: 'target-out-of-reach',
      message:
        `From ${formatFrequency(worst.from)} to ${formatFrequency(worst.to)} the result stays up to ` +
        `${fixed(worst.missingDb)} dB under the target with the EQ at its greatest boost of ${fixed(maxBoostDb)} dB. ` +
        'Lower the target there or accept it; more boost costs headroom and power.',
      frequencyHz: Math.sqrt(worst.from * worst.to),
    },
  ];
}

/** A level that was asked for and that the EQ is nowhere near, such as one meant for another scale. */
function levelOutOfReach({ frequencyHz, remainingDb, zones }: DesignFacts): Warning[] {
  const meanDb = weightedMean(remainingDb, countedWeights(frequencyHz, zones));
  if (Math.abs(meanDb) <= LEVEL_OUT_OF_REACH_DB) return [];
  return [
    {
      code: 'level-out-of-reach',
      message:
        `On average the result stays ${fixed(Math.abs(meanDb))} dB ${meanDb > 0 ? 'over' : 'under'} the target: its level ` +
        "was given, and lies too far from the measurement's for an EQ to bridge. Leave it to be chosen, or give one on the " +
        "measurement's own scale.",
    },
  ];
}

function levelLoss({ meanDb, maxLevelLossDb }: DesignFacts): Warning[] {
  if (meanDb > -maxLevelLossDb + 0.05 || maxLevelLossDb === 0) return [];
  return [
    {
      code: 'level-loss-at-limit',
      message:
        `The EQ lowers the whole range by ${fixed(-meanDb)} dB on average, ` +
        (meanDb < -maxLevelLossDb - 0.05
          ? `more than the ${fixed(maxLevelLossDb)} dB that were allowed: that much loudness is lost.`
          : 'as much as is allowed. A greater level loss may bring the curve nearer to the target with these bands, at the price of loudness.'),
    },
  ];
}

function headroom({ inputGainDb }: DesignFacts): Warning[] {
  if (inputGainDb > -0.05) return [];
  return [
    {
      code: 'headroom-used',
      message:
        `The bank boosts somewhere: set the digital gain ahead of it to ${inputGainDb.toFixed(2)} dB, or full-scale ` +
        'signals will clip. 3 dB of boost asks for twice the amplifier power.',
    },
  ];
}

/** By way of the thousandths that a design holds: the same figure as beside it. */
function fixed(db: number): string {
  return roundDb(db).toFixed(1).replace('-', '−');
}
