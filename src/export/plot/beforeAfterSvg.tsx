import { renderToString } from 'preact-render-to-string';
import type { Design } from '../../schema/design.js';
import { BeforeAfterPlot } from './BeforeAfterPlot.js';

/** `before-after.svg`: the drawing as a file of its own, with a title and a description for those who cannot see it. */
export function beforeAfterSvg(design: Design): string {
  const svg = renderToString(<BeforeAfterPlot design={design} />);
  // The renderer escapes for HTML; XML 1.0 (2.4) also forbids "]]>" in text, which no element of ours needs.
  return `${svg.replaceAll(']]>', ']]&gt;')}\n`;
}
