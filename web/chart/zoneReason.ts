import type { FrequencyRange } from '../../src/curve/curve.js';
import { adviceWords, causeWords, findingName } from '../../src/export/words/findingWords.js';
import { shown } from '../state/shown.js';

/** Why a span is left alone, in words; `fromHz` is its lower end. */
export function zoneReason(
  fromHz: number,
): { readonly zone: FrequencyRange; readonly words: string } | undefined {
  const design = shown.value;
  const zone = design?.zones.find((each) => each.fromHz === fromHz);
  if (!design || !zone) return undefined;
  const inside = design.findings.filter(
    ({ zone: own }) => own && own.fromHz <= zone.toHz && own.toHz >= zone.fromHz,
  );
  const words = inside.map(
    (finding) => `The ${findingName(finding)}: ${causeWords(finding)}. ${adviceWords(finding)}`,
  );
  return { zone, words: words.join(' ') || 'Nothing is boosted here.' };
}
