import { log } from '../../elementary/logarithm.js';
import { typeCode } from '../../fit/bank/bands.js';
import { bankValues } from '../../fit/bank/bankKernel.js';
import { type DeviceBand, type DeviceBounds, filterOf } from '../stored/deviceBank.js';
import type { GridChoices } from './gridChoices.js';
import { type BandResponse, type GridCost, spreadOf } from './gridCost.js';

/** A band as places in the lists of choices. */
export interface GridBand {
  readonly type: DeviceBand['type'];
  readonly frequency: number;
  readonly gain: number;
  readonly q: number;
}

/** Responses of bands, computed once each. */
export interface BandTable {
  readonly choices: GridChoices;
  /** Undefined where the device cannot have such a band. */
  responseOf(band: GridBand): BandResponse | undefined;
  /** What is entered into the device. */
  settingOf(band: GridBand): DeviceBand;
}

/** Some 50 MB at 200 points. */
const MOST_HELD = 65536;

export function createBandTable(bounds: DeviceBounds, choices: GridChoices, cost: GridCost): BandTable {
  /** Rows of one type, frequency and Q, each with a place for every gain. */
  const rows = new Map<number, (BandResponse | null | undefined)[]>();
  let held = 0;
  const { frequencyHz, gainDb, q } = choices;
  const settingOf = (band: GridBand): DeviceBand => ({
    type: band.type,
    frequencyHz: frequencyHz[band.frequency]!,
    gainDb: gainDb[band.gain]!,
    q: q[band.q]!,
  });
  const outside = (band: GridBand) =>
    band.frequency < 0 ||
    band.gain < 0 ||
    band.q < 0 ||
    band.frequency >= frequencyHz.length ||
    band.gain >= gainDb.length ||
    band.q >= q.length;
  return {
    choices,
    settingOf,
    responseOf(band) {
      if (outside(band)) return undefined;
      const key = (typeCode(band.type) * frequencyHz.length + band.frequency) * q.length + band.q;
      let row = rows.get(key);
      if (!row) {
        row = [];
        rows.set(key, row);
      }
      const known = row[band.gain];
      if (known !== undefined) return known ?? undefined;
      if (held >= MOST_HELD) {
        rows.clear();
        held = 0;
        row = [];
        rows.set(key, row);
      }
      const made = computed(bounds, settingOf(band), cost);
      row[band.gain] = made ?? null;
      held++;
      return made;
    },
  };
}

function computed(bounds: DeviceBounds, setting: DeviceBand, cost: GridCost): BandResponse | undefined {
  const filter = filterOf(bounds, setting);
  if (!filter) return undefined;
  const { warped, sampleRateHz } = cost.grid;
  const exactDb = new Float64Array(warped.length);
  const values = Float64Array.of(log(filter.frequencyHz), filter.gainDb, log(filter.q));
  bankValues(Uint8Array.of(typeCode(filter.type)), values, warped, sampleRateHz, exactDb);
  const responseDb = Float32Array.from(exactDb);
  return { responseDb, spread: spreadOf(cost, responseDb) };
}
