import { renderToString } from 'preact-render-to-string';
import type { Design } from '../schema/design.js';
import { contentPolicy } from './report/contentPolicy.js';
import { inlineJson } from './report/inlineJson.js';
import { inlineScript } from './report/inlineScript.js';
import { plotFigure } from './report/plotFigure.js';
import { ReportPage } from './report/ReportPage.js';
import { reportScript } from './report/reportScript.js';

export interface ReportOptions {
  /** The plotting library's source as it is delivered (plotly.js-dist-min), which ends up in the page. */
  readonly plotlySource: string;
  /** Name and version of the program, for the foot of the page. */
  readonly generatedBy?: string;
}

/**
 * `report.html`: one file that opens without a network and sends nothing anywhere. All text from files is escaped
 * by the renderer, and the page's policy lets only its own scripts run.
 */
export function reportHtml(design: Design, options: ReportOptions): string {
  const scripts = [inlineScript(options.plotlySource), inlineScript(reportScript)];
  const page = (
    <ReportPage
      design={design}
      policy={contentPolicy(scripts)}
      scripts={scripts}
      figureJson={inlineJson(plotFigure(design))}
      {...(options.generatedBy === undefined ? {} : { generatedBy: options.generatedBy })}
    />
  );
  return `<!doctype html>\n${renderToString(page)}\n`;
}
