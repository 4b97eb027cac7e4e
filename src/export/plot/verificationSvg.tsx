import { renderToString } from 'preact-render-to-string';
import type { Verification } from '../../schema/verification.js';
import { VerificationPlot } from './VerificationPlot.js';

/** `verification.svg`: promised and measured, as a file of its own. */
export function verificationSvg(verification: Verification): string {
  const svg = renderToString(<VerificationPlot verification={verification} />);
  // XML 1.0 (2.4) forbids "]]>" in text.
  return `${svg.replaceAll(']]>', ']]&gt;')}\n`;
}
