import type { RenderReport } from '../audio/renderWav.js';
import { hasSteps } from '../audio/triangularDither.js';
import { cleanText } from '../words/cleanText.js';
import { formatDb } from '../words/formatDb.js';
import { wrapText } from '../words/wrapText.js';

const WIDTH = 100;

/** Further chunks of the file by their names. */
function further(what: string, names: readonly string[]): string[] {
  return names.length === 0 ? [] : [wrapText(`${what}: ${cleanText(names.join(', '))}.`, WIDTH, '  ')];
}

const formatWords: Readonly<Record<RenderReport['format'], string>> = {
  pcm16: '16-bit PCM',
  pcm24: '24-bit PCM',
  pcm32: '32-bit PCM',
  float32: '32-bit float',
  float64: '64-bit float',
};

/** What was rendered, its levels, and what to mind when listening. */
export function renderText(report: RenderReport, fileName: string): string {
  const { frameCount, sampleRateHz, channelCount, peakBeforeDb, peakAfterDb } = report;
  const peak = (db: number | undefined) => (db === undefined ? 'silence' : formatDb(db));
  const seconds = (frameCount / sampleRateHz).toFixed(2);
  return `${[
    `${cleanText(fileName)}: ${seconds} s, ${channelCount} ${channelCount === 1 ? 'channel' : 'channels'}, ${sampleRateHz} Hz, ${formatWords[report.format]}`,
    `Input gain ${formatDb(report.inputGainDb)}. Greatest sample ${peak(peakBeforeDb)} before, ${peak(peakAfterDb)} after, relative to full scale.`,
    ...(report.samplesOver === 0 ? ['Nothing clipped.'] : []),
    ...(hasSteps(report.format)
      ? [
          report.dither === 'none'
            ? `Rounded to ${formatWords[report.format]} without dither (--dither triangular adds it).`
            : `Rounded to ${formatWords[report.format]} with triangular dither of one step.`,
        ]
      : []),
    ...further('Taken over', report.keptChunks),
    ...further('Not taken over, since it may no longer be true', report.droppedChunks),
    ...report.warnings.map((warning) =>
      wrapText(`- ${cleanText(warning.message)} [${cleanText(warning.code)}]`, WIDTH, '  '),
    ),
    wrapText(
      'Listen with the equalizer itself switched off, or the correction acts twice. Start quietly. Compare at equal ' +
        'loudness: the louder one always seems the better.',
      WIDTH,
    ),
  ].join('\n')}\n`;
}
