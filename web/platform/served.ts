import plotlyUrl from 'plotly.js-dist-min/plotly.min.js?url';

/** Where the app comes from a server: scripts are files of their own. */

export function newWorker(): Worker {
  return new Worker(new URL('../work/worker.ts', import.meta.url), { type: 'module' });
}

/** What a script element loads the plotting library from. */
export function plotlyScriptUrl(): string {
  return plotlyUrl;
}

/** The plotting library as text, to be put into a report. */
export async function plotlySource(): Promise<string> {
  const answer = await fetch(plotlyUrl);
  if (!answer.ok) throw new Error(`the plotting library could not be read (${answer.status})`);
  return answer.text();
}
