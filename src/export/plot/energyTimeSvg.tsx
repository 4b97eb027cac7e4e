import { renderToString } from 'preact-render-to-string';
import type { EnergyTimeCurve } from '../../impulse/arrivals/energyTimeCurve.js';
import type { ResponseReport } from '../../schema/response.js';
import { EnergyTimePlot } from './EnergyTimePlot.js';

/** The energy-time curve as a drawing of its own. */
export function energyTimeSvg(report: ResponseReport, curve: EnergyTimeCurve): string {
  const svg = renderToString(<EnergyTimePlot report={report} curve={curve} />);
  // XML 1.0 (2.4) forbids "]]>" in text.
  return `${svg.replaceAll(']]>', ']]&gt;')}\n`;
}
