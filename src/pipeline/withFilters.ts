import { sliceCurve } from '../curve/sliceCurve.js';
import { weightedMean } from '../curve/weightedMean.js';
import type { DeviceProfile } from '../device/profile/deviceProfile.js';
import { bankMean } from '../filter/bankMean.js';
import type { Filter } from '../filter/filter.js';
import type { Design } from '../schema/design.js';
import { formatFrequency } from '../units/formatFrequency.js';
import type { Warning } from '../warning.js';
import { bassCautions } from './bassBoost.js';
import { CHANGED_BY_HAND } from './changedByHand.js';
import { designWarnings, isDesignWarning } from './designWarnings.js';
import { countedWeights, errorFigures, unevenness } from './errorFigures.js';
import { type RealBank, realBank } from './realBank.js';
import { roundDb, roundHz } from './rounding.js';

export interface HandOptions {
  readonly device?: DeviceProfile | undefined;
  readonly keepLevel?: boolean;
}

/** A boost that somebody put into a span that should be left alone is worth a word when it is this far above what is allowed. */
const SLACK_DB = 0.1;

/**
 * A design with other filters in it, chosen by hand: all that depends on them reckoned anew, the target's level among
 * it unless it was given. Limits are not enforced on what a person chose; what goes beyond them is warned of.
 *
 * @param design whose curves, findings and target stay
 * @param options.device the profile that `design` was made for, if any; the filters go to its nearest values
 * @param options.keepLevel the level was given, not chosen
 * @throws InputError where one stands above half the sample rate, or the device cannot hold them
 */
export function withFilters(
  design: Design,
  chosen: readonly Filter[],
  { device, keepLevel = false }: HandOptions = {},
): Design {
  const { sampleRateHz, range, zones, limits, curves, cornerHz } = design;
  const bank = realBank(chosen, sampleRateHz, device);
  const { filters } = bank;
  const all = Float64Array.from(curves.frequencyHz);
  const eqDb = bank.responseDb(all);
  const shiftDb = keepLevel ? 0 : meanRest(design, eqDb);
  const errorOf = Float64Array.from(curves.smoothedDb, (db, i) => db - curves.targetDb[i]! - shiftDb);
  const error = sliceCurve({ frequencyHz: all, levelDb: errorOf }, range);
  const eq = sliceCurve({ frequencyHz: all, levelDb: eqDb }, range).levelDb;
  const figures = (leftOut: typeof zones) => errorFigures(error.frequencyHz, error.levelDb, eq, leftOut);
  const meanDb = bankMean(filters, sampleRateHz, range.fromHz, range.toHz, bank.responseDb);
  const maximum = bank.maximum();
  // What these say holds for the bank that was fitted.
  const { device: _, deviceSettings: __, deviceCost: ___, ...others } = design;
  const { bound: ____, positions: _____, repeatability: ______, ...rest } = others;
  return {
    ...rest,
    ...bank.fields,
    inputGainDb: bank.inputGainDb,
    levelDb: roundDb(design.levelDb + shiftDb),
    filters: [...filters],
    error: figures(zones),
    errorWithZones: figures([]),
    unevenness: unevenness(error.frequencyHz, error.levelDb, eq, zones),
    eq: { meanDb: roundDb(meanDb), maxDb: roundDb(maximum.maxDb), maxAtHz: roundHz(maximum.atHz) },
    warnings: [
      ...design.warnings.filter((warning) => !isDesignWarning(warning)),
      ...bank.warnings,
      ...cornerCaution(design, bank),
      ...boostedZones(zones, error.frequencyHz, eq),
      ...beyondLimit(maximum, limits.maxBoostDb),
      ...designWarnings({
        findings: design.findings,
        zones,
        ...(cornerHz !== undefined && { cornerHz }),
        inputGainDb: bank.inputGainDb,
        maxBoostDb: limits.withDevice?.maxBoostDb ?? limits.maxBoostDb,
        maxLevelLossDb: limits.maxLevelLossDb,
        meanDb,
        belowCornerDb: bank.maximum(0, (cornerHz ?? range.fromHz) / Math.SQRT2).maxDb,
        frequencyHz: error.frequencyHz,
        eqDb: eq,
        filters: bank.filters,
        remainingDb: error.levelDb.map((db, i) => db + eq[i]!),
      }),
    ],
    curves: {
      ...curves,
      targetDb: curves.targetDb.map((db) => roundDb(db + shiftDb)),
      eqDb: Array.from(eqDb, roundDb),
    },
    fit: { ...design.fit, stopReason: CHANGED_BY_HAND, limitsReached: [] },
  };
}

/** What is to be said of the bass; of the corner seen in the room where the fit's own bank carried a caution for it. */
function cornerCaution({ warnings, cornerHz }: Design, { maximum }: RealBank): Warning[] {
  const inRoom = warnings.some(({ code }) => code === 'corner-in-room');
  return bassCautions(inRoom ? {} : undefined, cornerHz, maximum);
}

/** Weighted mean of what would remain at the present level: zero where that is the best one. */
function meanRest({ curves, range, zones }: Design, eqDb: Float64Array): number {
  const rest = Float64Array.from(curves.smoothedDb, (db, i) => db + eqDb[i]! - curves.targetDb[i]!);
  const { frequencyHz, levelDb } = sliceCurve(
    { frequencyHz: Float64Array.from(curves.frequencyHz), levelDb: rest },
    range,
  );
  return weightedMean(levelDb, countedWeights(frequencyHz, zones));
}

function boostedZones(zones: Design['zones'], frequencyHz: Float64Array, eqDb: Float64Array): Warning[] {
  return zones.flatMap(({ fromHz, toHz, maxRiseDb = 0.5 }) => {
    let at = -1;
    frequencyHz.forEach((hz, i) => {
      if (hz >= fromHz && hz <= toHz && (at < 0 || eqDb[i]! > eqDb[at]!)) at = i;
    });
    if (at < 0 || eqDb[at]! <= maxRiseDb + SLACK_DB) return [];
    return [
      {
        code: 'zone-boosted-by-hand',
        message:
          `The filters boost by ${eqDb[at]!.toFixed(1)} dB at ${formatFrequency(frequencyHz[at]!)}, inside a span that is ` +
          'to be left alone: the boost is mostly cancelled again, and costs headroom and power.',
        frequencyHz: frequencyHz[at]!,
      },
    ];
  });
}

function beyondLimit({ maxDb, atHz }: { maxDb: number; atHz: number }, maxBoostDb: number): Warning[] {
  if (maxDb <= maxBoostDb + 0.05) return [];
  return [
    {
      code: 'boost-beyond-limit',
      message:
        `The filters boost by ${maxDb.toFixed(1)} dB at ${formatFrequency(atHz)}, more than the ${maxBoostDb.toFixed(1)} dB ` +
        'that were allowed. 3 dB of boost asks for twice the amplifier power.',
      frequencyHz: atHz,
    },
  ];
}
