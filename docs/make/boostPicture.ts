import { demoScenario } from '../../fixtures/simulate/demoScenario.js';
import { moveSpeaker } from '../../fixtures/simulate/place.js';
import { roomPressure } from '../../fixtures/simulate/simulateRoom.js';
import type { ComplexPressure } from '../../src/acoustics/complexPressure.js';
import { logGrid } from '../../src/curve/logGrid.js';
import { smoothOctave } from '../../src/curve/smoothOctave.js';
import { palette } from '../../src/export/plot/plotStyle.js';
import type { Filter } from '../../src/filter/filter.js';
import { filterResponseDb } from '../../src/filter/filterResponseDb.js';
import { stackedCurvesSvg } from './StackedCurves.js';

/** What someone might enter who takes the dip for a hole to be filled. */
export const BOOST: Filter = { type: 'peaking', frequencyHz: 322, gainDb: 6, q: 3.5 };
/** As in the demo's other placement: from 26 to 65 cm off the wall behind. */
const PULLED_OUT_M = 0.39;

/** The demo scenario without noise, before and after the boost: with its reflections, without them, and elsewhere. */
export function boostCurves() {
  const frequencyHz = logGrid(100, 1000, 96);
  const boostDb = filterResponseDb(BOOST, 48_000, frequencyHz);
  const pair = (pressure: ComplexPressure) => {
    const levelDb = pressure.re.map((re, i) => 20 * Math.log10(Math.hypot(re, pressure.im[i]!)));
    const before = smoothOctave({ frequencyHz, levelDb }, 1 / 12).levelDb;
    return { before, after: before.map((db, i) => db + boostDb[i]!) };
  };
  const here = roomPressure(demoScenario, frequencyHz);
  const away = roomPressure(moveSpeaker(demoScenario, [PULLED_OUT_M, 0, 0], 24), frequencyHz);
  return { frequencyHz, here: pair(here.total), direct: pair(here.direct), away: pair(away.total) };
}

const before = { label: 'Without the boost', color: palette.blue, width: 1.9 };
const after = { label: 'With +6 dB at 322 Hz', color: palette.vermillion, width: 2.2, dash: '7 3' };

export function boostPicture(): string {
  const { frequencyHz, here, direct, away } = boostCurves();
  const panel = (heading: string, curves: typeof here) => ({
    heading,
    unit: 'Level (dB)',
    from: -12,
    to: 12,
    ticks: [-10, -5, 0, 5, 10],
    curves: [
      { style: before, values: curves.before },
      { style: after, values: curves.after },
    ],
  });
  return stackedCurvesSvg({
    title: 'A boost at a cancellation (simulated)',
    subtitle: 'The demo scenario, 1/12 octave. The boost raises all that the speaker plays, at every place.',
    frequencyHz,
    legend: [
      { style: before, width: 190 },
      { style: after, width: 220 },
    ],
    mark: { hz: BOOST.frequencyHz, words: '322 Hz' },
    panels: [
      panel('At the measured place: the dip looks filled', here),
      panel('The direct sound alone, which comes first: it had no dip, now it has a hump', direct),
      panel(
        'The speaker 39 cm farther from the wall behind: the dip has gone elsewhere, the hump stays',
        away,
      ),
    ],
  });
}
