import { tenths } from '../diagnosis/evidence/tenths.js';
import { pow10 } from '../elementary/power.js';
import { formatFrequency } from '../units/formatFrequency.js';
import type { Warning } from '../warning.js';
import { AUDIBLE_BOOST_DB, cornerInRoom, nearCornerHz } from './speakerCorner.js';

/** Greatest sum of the EQ and where it lies. */
interface Greatest {
  readonly maxDb: number;
  readonly atHz: number;
}

/** Twice the power, 1.4 times the travel. */
const LEAST_BOOST_DB = 3;
/** Less than this above what was said already is no news. */
const NEWS_DB = 1;
/** Where no corner was found, the bass is this. */
const BASS = { fromHz: 20, toHz: 100 };

/**
 * What is to be said of a bank's boost in the bass: that the corner may lie higher than it seems, and what the boost costs.
 *
 * @param seen what the corner was found with; undefined where that it is seen in the room need not be told
 * @param greatest of the bank's sum between two frequencies
 */
export function bassCautions(
  seen: Parameters<typeof cornerInRoom>[0] | undefined,
  cornerHz: number | undefined,
  greatest: (fromHz: number, toHz: number) => Greatest,
): Warning[] {
  const nearDb = greatest(0, nearCornerHz(cornerHz)).maxDb;
  const inRoom = seen ? cornerInRoom(seen, cornerHz, nearDb) : [];
  const belowDb = cornerHz === undefined ? 0 : greatest(0, cornerHz / Math.SQRT2).maxDb;
  const saidDb = Math.max(inRoom.length > 0 ? nearDb : 0, belowDb > AUDIBLE_BOOST_DB ? belowDb : 0);
  const lowest = cornerHz === undefined ? greatest(BASS.fromHz, BASS.toHz) : greatest(cornerHz, 2 * cornerHz);
  return [...inRoom, ...bassBoost(cornerHz, lowest, saidDb)];
}

/**
 * A boost in the speaker's lowest octave, where a level asks for the most cone travel: above the corner too travel grows with the
 * boost as a ratio of pressures (the pressure of a small source goes with its volume acceleration; from memory).
 *
 * @param greatest of the EQ there
 * @param saidDb greatest boost that another caution for the bass names
 */
function bassBoost(cornerHz: number | undefined, { maxDb, atHz }: Greatest, saidDb: number): Warning[] {
  if (maxDb < LEAST_BOOST_DB || maxDb < saidDb + NEWS_DB) return [];
  const where = cornerHz === undefined ? '' : `, near the speaker's corner at ${formatFrequency(cornerHz)}`;
  return [
    {
      code: 'bass-boost',
      message:
        `The EQ boosts the bass by up to ${tenths(maxDb)} dB at ${formatFrequency(atHz)}${where}: there that asks for ` +
        `${tenths(pow10(maxDb / 20))} times the cone travel and ${tenths(pow10(maxDb / 10))} times the power. Keep to the level ` +
        'that the maker rates and turn down where it knocks or distorts; a lower --max-boost or --bass-shelf asks for less.',
      frequencyHz: atHz,
    },
  ];
}
