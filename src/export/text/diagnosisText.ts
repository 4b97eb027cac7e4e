import type { Finding } from '../../diagnosis/verdict/finding.js';
import type { DiagnosisReport } from '../../schema/diagnosis.js';
import { capitalized } from '../words/capitalized.js';
import { cleanText } from '../words/cleanText.js';
import { causeWords, findingName, sureWords, verdictWords } from '../words/findingWords.js';
import { formatSignedDb } from '../words/formatDb.js';
import { formatSpan } from '../words/formatSpan.js';
import { wrapText } from '../words/wrapText.js';
import { numberedFindings } from './numberedFindings.js';

const WIDTH = 100;
const INDENT = '  ';

/** The findings for the terminal, what wants moving first, each with its evidence. No colour codes. */
export function diagnosisText(report: DiagnosisReport): string {
  const findings = numberedFindings(report).map(({ finding }) => finding);
  const count = (verdict: Finding['verdict']) => findings.filter((each) => each.verdict === verdict).length;
  const summary =
    findings.length === 0
      ? `Nothing stands out from ${formatSpan(report.range)}.`
      : `From ${formatSpan(report.range)}: ${count('move')} to mend by moving, ${count('equalize')} by an equalizer, ${count('leave')} better left alone.`;
  const notes = (report.notes ?? []).map((note) => wrapText(`- ${cleanText(note)}`, WIDTH, '  '));
  const warnings = report.warnings.map((warning) =>
    wrapText(`- ${cleanText(warning.message)} [${cleanText(warning.code)}]`, WIDTH, '  '),
  );
  return `${[
    cleanText(report.title),
    summary,
    ...findings.flatMap((finding) => ['', ...findingLines(finding)]),
    ...(notes.length === 0 ? [] : ['', 'The speaker as a whole', ...notes]),
    ...(warnings.length === 0 ? [] : ['', 'Warnings', ...warnings]),
  ].join('\n')}\n`;
}

function findingLines(finding: Finding): string[] {
  const shape = `${formatSignedDb(finding.levelDb)}, ${finding.widthOctaves.toFixed(2)} octave wide`;
  const head = `${capitalized(findingName(finding))}, ${shape}: ${verdictWords(finding.verdict)}`;
  const cause = `${capitalized(causeWords(finding))}, ${sureWords(finding)}.`;
  const advice = finding.advice === undefined ? [] : [`What to do: ${finding.advice}`];
  return [
    head,
    ...[cause, ...finding.evidence, ...advice].map(
      (line) => `${INDENT}${wrapText(cleanText(line), WIDTH - INDENT.length, INDENT)}`,
    ),
  ];
}
