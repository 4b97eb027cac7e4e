/**
 * What rounding costs on devices of every meaning of Q, each with one range for all its bands, beside plain rounding
 * brought within the limits: of the fit for the device, and of the fit that knows of no device.
 * Run: npx tsx test/evaluate/roundingConventions.ts [cases] [first seed] [part of a device's name]
 */
import { deviceLimits } from '../../src/device/deviceLimits.js';
import { roundToDevice } from '../../src/device/roundToDevice.js';
import { realError } from '../../src/device/stored/realError.js';
import { bankResponseDb } from '../../src/filter/bankResponseDb.js';
import type { Filter } from '../../src/filter/filter.js';
import { bandsFromFilters } from '../../src/fit/bank/bands.js';
import { fitFilters, NORMAL_EFFORT } from '../../src/fit/fitFilters.js';
import { measureExcess } from '../../src/fit/objective/excess.js';
import { seededRandom } from '../../src/fit/seededRandom.js';
import { conventionDevices } from '../device/conventionDevices.js';
import { heldPlainly, roundPlainly } from '../device/plainRounding.js';
import { randomBank } from '../device/randomBank.js';
import { LIMITS, problemOf } from '../fit/problems.js';

const count = Number(process.argv[2] ?? 4);
const firstSeed = Number(process.argv[3] ?? 70000);
const named = process.argv[4] ?? '';
const BANDS = 6;
const EFFORT = NORMAL_EFFORT;
const figure = (value: number, digits = 3) => value.toFixed(digits).padStart(9);

console.log('   seed  bands  free fit  unrounded    plain  plain of free  rounded   broken     s');
for (const device of conventionDevices(BANDS)) {
  if (!device.name.includes(named)) continue;
  console.log(device.name);
  for (let seed = firstSeed; seed < firstSeed + count; seed++) {
    const bank = randomBank(seededRandom(seed));
    const problem = problemOf({
      fromHz: 40,
      deviationDb: (hz) => bankResponseDb(bank, 48000, hz),
      zones: seed % 2 ? [{ fromHz: 400, toHz: 520 }] : [],
      limits: { ...LIMITS, maxBands: BANDS },
    });
    const own = { ...problem, limits: deviceLimits(problem.limits, device, 48000) };
    const fitOf = (what: typeof problem) => fitFilters(what, { random: seededRandom(1), effort: EFFORT });
    const [free, fitted] = [fitOf(problem), fitOf(own)];
    const started = process.cpuUsage();
    const rounded = roundToDevice(own, fitted, device, BANDS);
    const used = process.cpuUsage(started);
    const errorOf = (filters: readonly Filter[]) => realError(problem, filters).rmsDb;
    const plainOf = (filters: readonly Filter[]) =>
      errorOf(heldPlainly(own, device, roundPlainly(filters, device, 48000)));
    const broken = Math.max(0, ...Object.values(measureExcess(problem, bandsFromFilters(rounded.filters))));
    const [plain, plainOfFree] = [plainOf(fitted.filters), plainOf(free.filters)];
    console.log(
      `${String(seed).padStart(7)} ${String(rounded.filters.length).padStart(6)}` +
        [errorOf(free.filters), errorOf(fitted.filters), plain, plainOfFree, rounded.rmsDb, broken]
          .map((db) => figure(db))
          .join('') +
        figure((used.user + used.system) / 1e6, 2) +
        (rounded.rmsDb > Math.min(plain, plainOfFree) + 1e-9 ? '  WORSE' : ''),
    );
  }
}
