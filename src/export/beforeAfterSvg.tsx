import { renderToString } from 'preact-render-to-string';
import type { Design } from '../schema/design.js';
import { BeforeAfterPlot } from './plot/BeforeAfterPlot.js';

/** `before-after.svg`: the drawing as a file of its own, with a title and a description for those who cannot see it. */
export function beforeAfterSvg(design: Design): string {
  return `${renderToString(<BeforeAfterPlot design={design} />)}\n`;
}
