import { smoothOctave } from '../../curve/smoothOctave.js';
import { pow2 } from '../../elementary/exponential.js';
import { upperMedian } from '../../elementary/upperMedian.js';
import type { ResponseReport } from '../../schema/response.js';
import { formatFrequency } from '../../units/formatFrequency.js';
import { formatLength } from '../../units/formatLength.js';
import { cleanText } from '../words/cleanText.js';
import { fixedDecimals } from '../words/fixedDecimals.js';
import { formatDb, formatSignedDb } from '../words/formatDb.js';
import { formatMs } from '../words/formatMs.js';
import { formatSpan } from '../words/formatSpan.js';
import { gateWords } from '../words/gateWords.js';
import { padTable } from '../words/padTable.js';
import { smoothingWords } from '../words/smoothingWords.js';
import { wrapText } from '../words/wrapText.js';

const WIDTH = 100;
const LABEL = 16;
/** The room is told of as it is heard: over third octaves. */
const ROOM_OCTAVES = 1 / 3;

/** The response for the terminal: what was kept, how far to trust it, what came later. No colour codes. */
export function responseText(report: ResponseReport): string {
  const warnings = report.warnings.map(({ message, code }) =>
    wrapText(`- ${cleanText(message)} [${cleanText(code)}]`, WIDTH, '  '),
  );
  return `${[
    cleanText(report.title),
    '',
    ...facts(report).map(([label, words]) =>
      wrapText(`${`${label}:`.padEnd(LABEL)}${words}`, WIDTH, ' '.repeat(LABEL)),
    ),
    '',
    ...reflectionLines(report),
    ...(warnings.length === 0 ? [] : ['', 'Warnings', ...warnings]),
  ].join('\n')}\n`;
}

function facts(report: ResponseReport): [string, string][] {
  const { arrivalS, sampleRateHz, resolvedFromHz, trusted, swept, splice, octaves, phase } = report;
  const room = roomWords(report);
  return [
    ['Direct sound', `${formatMs(arrivalS)} from the start (sample ${(arrivalS * sampleRateHz).toFixed(2)})`],
    ['Gate', gateWords(report)],
    ['Resolved from', `${formatFrequency(resolvedFromHz)}; below, the curve is not to be trusted`],
    ...(splice
      ? [
          [
            'Joined',
            `gated above ${formatFrequency(splice.crossoverHz)}, without a gate below, moved by ${formatSignedDb(splice.levelDb)} to meet it`,
          ] as [string, string],
        ]
      : []),
    [
      'Trusted',
      trusted
        ? `${formatSpan(trusted)}: resolved, ${swept ? 'swept, ' : ''}and 10 dB or more above the noise`
        : 'nowhere: nothing is both resolved and 10 dB above the noise',
    ],
    [
      'Over the noise',
      octaves
        ? octaves
            .map(
              ({ centreHz, signalToNoiseDb }) => `${formatFrequency(centreHz)} ${formatDb(signalToNoiseDb)}`,
            )
            .join(', ')
        : 'not known; the file holds no stretch before the sound, or after its end, to take the noise from',
    ],
    ['Clipping', report.clipped ? 'yes, see the warnings' : 'none seen'],
    ...(room === undefined ? [] : [['The room', room] as [string, string]]),
    ...(phase ? [['Group delay', delayWords(report)] as [string, string]] : []),
    ['Smoothing', smoothingWords(report.smoothingOctaves)],
  ];
}

/** What the ungated curve has over the gated one, where both are trusted. */
function roomWords({ room, trusted }: ResponseReport): string | undefined {
  if (!room || !trusted) return undefined;
  const smooth = smoothOctave(
    { frequencyHz: Float64Array.from(room.frequencyHz), levelDb: Float64Array.from(room.levelDb) },
    ROOM_OCTAVES,
  );
  const octaves = octavesIn(trusted);
  if (octaves.length === 0) return undefined;
  const words = octaves.map((centreHz) => {
    const levels = Array.from(smooth.levelDb).filter((_, i) => isAround(room.frequencyHz[i]!, centreHz));
    return `${formatFrequency(centreHz)} ${formatSignedDb(upperMedian(levels))}`;
  });
  return `all of the recording over what the gate lets through, by octave: ${words.join(', ')}`;
}

/** How late each octave comes beyond what its level calls for. */
function delayWords({ phase, curve, trusted }: ResponseReport): string {
  const words = octavesIn(trusted).map((centreHz) => {
    const delays = phase!.excessGroupDelayS.filter((_, i) => isAround(curve.frequencyHz[i]!, centreHz));
    return `${formatFrequency(centreHz)} ${fixedDecimals(upperMedian(delays) * 1000, 2)} ms`;
  });
  return words.length === 0
    ? 'not known'
    : `beyond minimum phase and the pure delay, by octave: ${words.join(', ')}`;
}

const isAround = (hz: number, centreHz: number) => hz >= centreHz / Math.SQRT2 && hz <= centreHz * Math.SQRT2;

/** Centres of the octaves that lie within a span as a whole. */
function octavesIn(span: ResponseReport['trusted']): number[] {
  if (!span) return [];
  return Array.from({ length: 12 }, (_, i) => 1000 * pow2(i - 6)).filter(
    (hz) => hz / Math.SQRT2 >= span.fromHz && hz * Math.SQRT2 <= span.toHz,
  );
}

function reflectionLines({ reflections }: ResponseReport): string[] {
  if (reflections.length === 0) return ['No reflection within 28 dB of the direct sound stands out.'];
  const column = (heading: string, cells: string[]) => ({ heading, cells, align: 'right' as const });
  const alongside = reflections.map(({ alongsideM }) => alongsideM).filter((m) => m !== undefined);
  return [
    'Reflections, relative to the direct sound',
    ...padTable([
      column(
        'Delay (ms)',
        reflections.map(({ delayS }) => (delayS * 1000).toFixed(2)),
      ),
      column(
        'Level (dB)',
        reflections.map(({ levelDb }) => levelDb.toFixed(1)),
      ),
      column(
        'Extra path',
        reflections.map(({ pathDifferenceM }) => formatLength(pathDifferenceM, 'cm')),
      ),
      column(
        'Wall behind at',
        reflections.map(({ behindM }) => formatLength(behindM, 'cm')),
      ),
      ...(alongside.length === reflections.length
        ? [
            column(
              'Plane alongside at',
              alongside.map((m) => formatLength(m, 'cm')),
            ),
          ]
        : []),
    ]),
  ];
}
