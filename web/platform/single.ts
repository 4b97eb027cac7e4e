import source from 'plotly.js-dist-min/plotly.min.js?raw';
import InlineWorker from '../work/worker.ts?worker&inline';

/** Where the app is one file on disk: what would be files of their own is text inside it. */

export function newWorker(): Worker {
  return new InlineWorker();
}

/** What a script element loads the plotting library from. */
export function plotlyScriptUrl(): string {
  return URL.createObjectURL(new Blob([source], { type: 'text/javascript' }));
}

/** The plotting library as text, to be put into a report. */
export async function plotlySource(): Promise<string> {
  return source;
}
