import { join } from 'node:path';
import { designJson } from '../src/export/json/designJson.js';
import { summaryText } from '../src/export/text/summaryText.js';
import { designFileNames } from './designFileNames.js';
import { checkOutput } from './io/outputFolder.js';
import { openTerminal } from './io/terminal.js';
import { writeOutputs } from './io/writeOutputs.js';
import type { OutputFlags } from './options.js';
import { predictLines } from './predictLine.js';
import { type Flags, inputPaths, readDesignRequest } from './readRequest.js';

export interface DesignJob {
  /** The measurements. */
  readonly paths: readonly string[];
  /** What is said of them and of the design. */
  readonly asked: Flags;
  readonly out?: string;
  readonly overwrite: boolean;
}

/**
 * The main job: read, design, leave the files, show the result. What cannot be written is said before the work;
 * what the work needs is loaded when it begins, so that a slip of the user is answered at once.
 */
export async function runDesign(job: DesignJob, flags: OutputFlags): Promise<void> {
  const terminal = openTerminal(flags);
  const plan =
    job.out === undefined
      ? undefined
      : { folder: job.out, overwrite: job.overwrite, inputs: inputPaths(job.paths, job.asked) };
  if (plan) checkOutput({ ...plan, names: designFileNames });

  terminal.progress('Reading …');
  const request = readDesignRequest(job.paths, job.asked);
  terminal.progress(`Fitting up to ${request.bands} bands …`);
  const { design } = await import('../src/design.js');
  const result = design({ ...request, againstBands: true });

  if (plan) {
    terminal.progress('Writing …');
    const { designFiles } = await import('./designFiles.js');
    writeOutputs(plan, designFiles(result));
  }
  terminal.result(flags.json ? designJson(result) : summaryText(result));
  const next = predictLines(result, job.paths, job.asked);
  if (next !== '') terminal.message(next);
  if (plan) {
    terminal.message(`\nWrote ${designFileNames.join(', ')} to ${plan.folder}`);
    terminal.message(`Open ${join(plan.folder, 'report.html')} in a browser.`);
  }
}
