import { renderToString } from 'preact-render-to-string';
import type { Prediction } from '../../schema/prediction.js';
import { PredictionPlot } from './PredictionPlot.js';

/** `prediction.svg`: where the dips go, as a file of its own. */
export function predictionSvg(prediction: Prediction): string {
  const svg = renderToString(<PredictionPlot prediction={prediction} />);
  // XML 1.0 (2.4) forbids "]]>" in text.
  return `${svg.replaceAll(']]>', ']]&gt;')}\n`;
}
