import type { Finding } from '../../diagnosis/verdict/finding.js';
import { adviceWords, causeName } from './findingWords.js';

/**
 * Findings that want moving, by frequency; together those that one move of the speaker deals with: of one surface, or
 * of one cause and with the same advice.
 */
export function movesByCause(findings: readonly Finding[]): Finding[][] {
  const moves = findings
    .filter((finding) => finding.verdict === 'move')
    .sort((a, b) => a.frequencyHz - b.frequencyHz);
  const groups = new Map<string, Finding[]>();
  for (const finding of moves) {
    const { kind, cause } = finding;
    const key = `${kind} ${causeName(cause)} ${cause.surface === undefined ? adviceWords(finding) : ''}`;
    groups.set(key, [...(groups.get(key) ?? []), finding]);
  }
  return [...groups.values()];
}
