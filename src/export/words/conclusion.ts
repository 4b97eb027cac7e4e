import type { Finding } from '../../diagnosis/verdict/finding.js';
import { CHANGED_BY_HAND } from '../../pipeline/changedByHand.js';
import type { Design } from '../../schema/design.js';
import { formatFrequency } from '../../units/formatFrequency.js';
import { capitalized } from './capitalized.js';
import { errorPair } from './errorPair.js';
import { findingName } from './findingWords.js';
import { formatInputGain } from './formatInputGain.js';
import { joinWords } from './joinWords.js';

const NAMED_AT_MOST = 3;

function whatTheFiltersDo(design: Design): string {
  const { beforeRmsDb, afterRmsDb } = design.unevenness;
  const { before, after } = errorPair(beforeRmsDb, afterRmsDb);
  const where = `between ${formatFrequency(design.range.fromHz)} and ${formatFrequency(design.range.toHz)}`;
  const outside = design.zones.length === 0 ? '' : ' (spans left alone not counted)';
  const count = design.filters.length;
  if (count === 0) {
    const why =
      design.fit.stopReason === CHANGED_BY_HAND
        ? ': they were taken out by hand; the'
        : ', since none was found that brings the curve noticeably nearer to the target; its';
    return `No filter is used${why} unevenness is ${before} dB RMS ${where}${outside}.`;
  }
  const subject = count === 1 ? 'One filter' : `${count} filters`;
  const verb =
    afterRmsDb < beforeRmsDb
      ? count === 1
        ? 'brings the unevenness down'
        : 'bring the unevenness down'
      : count === 1
        ? 'does not lower the unevenness, which goes'
        : 'do not lower the unevenness, which goes';
  return `${subject} ${verb} from ${before} to ${after} dB RMS ${where}${outside}.`;
}

function whatWantsMoving(moves: readonly Finding[]): string | undefined {
  if (moves.length === 0) return undefined;
  const sorted = [...moves].sort((a, b) => a.frequencyHz - b.frequencyHz);
  const probably = Math.min(...moves.map((finding) => finding.confidence)) < 0.85 ? 'probably ' : '';
  if (sorted.length > NAMED_AT_MOST) {
    const span = `${formatFrequency(sorted[0]!.frequencyHz)} and ${formatFrequency(sorted[sorted.length - 1]!.frequencyHz)}`;
    return `${sorted.length} features between ${span} ${probably}come from where the speaker and the microphone stand: move them, don't boost.`;
  }
  const kinds = new Set(sorted.map((finding) => finding.kind));
  const named =
    kinds.size === 1 && sorted.length > 1
      ? `the ${sorted[0]!.kind}s at ${joinWords(sorted.map((finding) => formatFrequency(finding.frequencyHz)))}`
      : joinWords(sorted.map((finding) => `the ${findingName(finding)}`));
  const verb = sorted.length === 1 ? 'comes' : 'come';
  return `${capitalized(named)} ${probably}${verb} from where the speaker and the microphone stand: move them, don't boost.`;
}

/**
 * What came out, in one to three sentences, each drawn from the figures of the design: what the filters do, what
 * wants moving instead, and the input gain that makes room for the boost.
 */
export function conclusion(design: Design): string {
  const sentences = [
    whatTheFiltersDo(design),
    whatWantsMoving(design.findings.filter((finding) => finding.verdict === 'move')),
    design.inputGainDb < 0
      ? `Set an input gain of ${formatInputGain(design.inputGainDb)} ahead of the filters; it makes room for their boost.`
      : undefined,
  ];
  return sentences.filter((sentence) => sentence !== undefined).join(' ');
}
