import { pow2 } from '../../elementary/exponential.js';
import type { DeconvolutionReport } from '../../schema/deconvolution.js';
import { formatFrequency } from '../../units/formatFrequency.js';
import { cleanText } from '../words/cleanText.js';
import { formatDb } from '../words/formatDb.js';
import { formatMs } from '../words/formatMs.js';
import { padTable } from '../words/padTable.js';
import { wrapText } from '../words/wrapText.js';

const WIDTH = 100;
const OCTAVES_HZ = [31.25, 62.5, 125, 250, 500, 1000, 2000, 4000, 8000];

/** A deconvolved sweep for the terminal: what was found, and the distortion by order. */
export function deconvolutionText(report: DeconvolutionReport): string {
  const { impulse, sweepStartS, warnings } = report;
  return `${[
    cleanText(report.title),
    '',
    `Sweep found at:    ${sweepStartS.toFixed(4)} s`,
    `Impulse response:  ${Number(impulse.lengthS.toPrecision(4))} s at ${report.sampleRateHz} Hz, its peak of ${formatDb(impulse.peakDb)} after ${formatMs(impulse.peakAtS)}`,
    ...recordingLines(report),
    ...harmonicLines(report),
    ...(warnings.length === 0 ? [] : ['', 'Warnings']),
    ...warnings.map(({ message, code }) =>
      wrapText(`- ${cleanText(message)} [${cleanText(code)}]`, WIDTH, '  '),
    ),
  ].join('\n')}\n`;
}

function recordingLines({ recordedPeakDb, octaves }: DeconvolutionReport): string[] {
  const noise = octaves
    ? octaves
        .map(({ centreHz, signalToNoiseDb }) => `${formatFrequency(centreHz)} ${formatDb(signalToNoiseDb)}`)
        .join(', ')
    : 'not known; the recording holds no silence before the sweep, or long enough after it';
  return [
    ...(recordedPeakDb === undefined
      ? []
      : [`Recording:         its greatest sample at ${formatDb(recordedPeakDb)} of full scale`]),
    wrapText(`Over the noise:    ${noise}`, WIDTH, ' '.repeat(19)),
  ];
}

function harmonicLines({ harmonics }: DeconvolutionReport): string[] {
  const rows = OCTAVES_HZ.filter((hz) => harmonics.some((each) => pointNear(each, hz) !== undefined));
  if (rows.length === 0) return [];
  return [
    '',
    'Harmonics in dB relative to the tone that makes them (noise and the edges of the room count in)',
    ...(harmonics.some(({ noiseDb }) => noiseDb)
      ? ['"<": no more than the noise gives by itself; the distortion lies lower']
      : []),
    ...padTable([
      { heading: 'Tone', cells: rows.map(formatFrequency), align: 'right' },
      ...harmonics.map((each) => ({
        heading: `Order ${each.order}`,
        cells: rows.map((hz) => cellNear(each, hz)),
        align: 'right' as const,
      })),
    ]),
  ];
}

type Harmonic = DeconvolutionReport['harmonics'][number];

/** Noise as strong as the harmonic makes 3 dB of both. */
const OF_NOISE_DB = 3;

function cellNear(harmonic: Harmonic, hz: number): string {
  const i = pointNear(harmonic, hz);
  if (i === undefined) return '';
  const level = harmonic.relativeDb[i]!;
  const noise = harmonic.noiseDb?.[i];
  return `${noise !== undefined && level < noise + OF_NOISE_DB ? '<' : ''}${level.toFixed(1)}`;
}

/** The nearest point of the curve, which has 24 to the octave; undefined outside of it. */
function pointNear({ frequencyHz }: Harmonic, hz: number): number | undefined {
  const i = frequencyHz.findIndex((f) => f >= hz / pow2(1 / 48));
  return i >= 0 && frequencyHz[i]! <= hz * pow2(1 / 24) ? i : undefined;
}
