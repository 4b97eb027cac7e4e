import type { SweepReport } from '../../schema/sweep.js';
import { formatFrequency } from '../../units/formatFrequency.js';
import { cleanText } from '../words/cleanText.js';
import { fixedDecimals } from '../words/fixedDecimals.js';
import { formatDb } from '../words/formatDb.js';
import { formatMs } from '../words/formatMs.js';
import { wrapText } from '../words/wrapText.js';

const WIDTH = 100;
const LABEL = 16;

/** A sweep for the terminal: what it is, what undoes it, and the cautions. */
export function sweepText({ sweep, inverse, warnings }: SweepReport): string {
  const seconds = (s: number) => `${Number(s.toPrecision(6))} s`;
  const facts = [
    [
      'Sweep',
      `${formatFrequency(sweep.fromHz)} to ${formatFrequency(sweep.toHz)} in ${seconds(sweep.durationS)}, exponential, ${fixedDecimals(sweep.levelDb, 1)} dBFS, ${sweep.sampleRateHz} Hz`,
    ],
    ['Fades', `in over ${formatMs(sweep.fadeInS)}, out over ${formatMs(sweep.fadeOutS)}`],
    ['Silence', `${seconds(sweep.silenceBeforeS)} before, ${seconds(sweep.silenceAfterS)} after`],
    [
      'Inverse filter',
      `the sweep reversed in time, its envelope falling as e^(-t/L) with L = ${seconds(inverse.timeConstantS)}, ${formatDb(inverse.fallDb)} in all`,
    ],
    [
      'Harmonics',
      `come before the linear response by ${inverse.harmonicLeadS
        .map((s, i) => `${seconds(Number(s.toPrecision(4)))} (order ${i + 2})`)
        .join(', ')}`,
    ],
  ];
  return `${[
    ...facts.map(([label, words]) =>
      wrapText(`${`${label}:`.padEnd(LABEL)}${words}`, WIDTH, ' '.repeat(LABEL)),
    ),
    '',
    'Before you play it',
    ...warnings.map(({ message, code }) => wrapText(`- ${cleanText(message)} [${code}]`, WIDTH, '  ')),
  ].join('\n')}\n`;
}
