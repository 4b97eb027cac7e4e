import type { ResponseReport } from '../../schema/response.js';
import { cleanText } from '../words/cleanText.js';
import { gateWords } from '../words/gateWords.js';
import { smoothingWords } from '../words/smoothingWords.js';

/** What of a response is written. */
export type ResponsePart = 'curve' | 'room';

/**
 * A response as a measurement file: frequency (Hz), level (dB), phase (degrees, from the arrival). What the
 * comments say of what is resolved and trusted is heeded where the file is read again.
 */
export function measurementText(report: ResponseReport, part: ResponsePart = 'curve'): string {
  const { frequencyHz, levelDb, phaseDeg } = (part === 'room' ? report.room : report.curve) ?? NOTHING;
  const { resolvedFromHz, trusted, swept, splice, smoothingOctaves, calibrated } = report;
  const comments = [
    cleanText(report.title),
    part === 'room'
      ? 'room: all of the recording over what the gate lets through'
      : 'frequency response from an impulse response',
    `gate: ${gateWords(report)}`,
    `resolved from: ${resolvedFromHz} Hz`,
    ...(trusted ? [`trusted: ${trusted.fromHz} to ${trusted.toHz} Hz`] : []),
    ...(swept ? [`swept: ${swept.fromHz} to ${swept.toHz} Hz`] : []),
    ...(splice
      ? [`gated above ${splice.crossoverHz} Hz, without a gate below, moved by ${splice.levelDb} dB`]
      : []),
    ...(smoothingOctaves > 0 ? [`smoothing: ${smoothingWords(smoothingOctaves)}`] : []),
    ...(calibrated ? ['the deviation of the microphone is taken off'] : []),
  ];
  return [
    ...comments.map((line) => `# ${line}`),
    'Frequency (Hz)\tLevel (dB)\tPhase (deg)',
    ...frequencyHz.map((hz, i) => `${hz}\t${levelDb[i]!.toFixed(4)}\t${phaseDeg[i]!.toFixed(3)}`),
    '',
  ].join('\n');
}

const NOTHING: ResponseReport['curve'] = { frequencyHz: [], levelDb: [], phaseDeg: [] };
