import { logGrid } from '../../src/curve/logGrid.js';
import { palette } from '../../src/export/plot/plotStyle.js';
import { excessGroupDelayS } from '../../src/impulse/phase/excessPhaseOfCurve.js';
import { stackedCurvesSvg } from './StackedCurves.js';

/** The weaker of two sounds relative to the stronger, and by how much the second comes later. */
export const WEAKER = 0.8;
export const LATER_S = 1.5e-3;

/** One level and two delays: direct sound and a reflection, once the reflection the weaker and once the direct sound. */
export function delayCurves() {
  const frequencyHz = logGrid(100, 4000, 256);
  const curveOf = (first: number, second: number) => {
    const turn = frequencyHz.map((hz) => 2 * Math.PI * hz * LATER_S);
    const re = turn.map((w) => first + second * Math.cos(w));
    const im = turn.map((w) => -second * Math.sin(w));
    let last = 0;
    const phaseRad = re.map((x, i) => {
      const phase = Math.atan2(im[i]!, x);
      last = phase + 2 * Math.PI * Math.round((last - phase) / (2 * Math.PI));
      return last;
    });
    return { frequencyHz, levelDb: re.map((x, i) => 20 * Math.log10(Math.hypot(x, im[i]!))), phaseRad };
  };
  const weakerReflection = curveOf(1, WEAKER);
  const strongerReflection = curveOf(WEAKER, 1);
  return {
    frequencyHz,
    levelDb: weakerReflection.levelDb,
    otherLevelDb: strongerReflection.levelDb,
    weakerS: excessGroupDelayS(weakerReflection),
    strongerS: excessGroupDelayS(strongerReflection),
  };
}

const level = { label: 'Level, the same for both', color: '#1a1a1a', width: 1.8 };
const weaker = { label: 'Reflection weaker than the direct sound', color: palette.blue, width: 2.4 };
const stronger = { label: 'Reflection stronger', color: palette.vermillion, width: 1.9, dash: '7 3' };

export function delayPicture(): string {
  const { frequencyHz, levelDb, weakerS, strongerS } = delayCurves();
  const ms = (s: Float64Array) => s.map((each) => 1000 * each);
  return stackedCurvesSvg({
    title: 'The same dips, told apart by their excess group delay (simulated)',
    subtitle: `Two sounds, the second ${1000 * LATER_S} ms later; the weaker has ${WEAKER} of the stronger one's pressure.`,
    frequencyHz,
    legend: [
      { style: level, width: 230 },
      { style: weaker, width: 330 },
      { style: stronger, width: 200 },
    ],
    panels: [
      {
        heading: 'Level',
        unit: 'Level (dB)',
        from: -16,
        to: 8,
        ticks: [-15, -10, -5, 0, 5],
        curves: [{ style: level, values: levelDb }],
      },
      {
        heading: 'Excess group delay: what the level does not explain',
        unit: 'Delay (ms)',
        from: -2,
        to: 15,
        ticks: [0, 5, 10, 15],
        curves: [
          { style: weaker, values: ms(weakerS) },
          { style: stronger, values: ms(strongerS) },
        ],
      },
    ],
  });
}
