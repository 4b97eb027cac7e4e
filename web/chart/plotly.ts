import { plotlyScriptUrl } from '../platform/served.js';

/** The few functions of the plotting library that the chart calls. */
export interface Plotting {
  readonly react: (
    element: HTMLElement,
    data: readonly object[],
    layout: object,
    config: object,
  ) => Promise<PlotElement>;
  readonly toImage: (
    figure: { readonly data: readonly object[]; readonly layout: object },
    options: {
      readonly format: 'png' | 'svg';
      readonly width: number;
      readonly height: number;
      readonly scale?: number;
    },
  ) => Promise<string>;
  readonly purge: (element: HTMLElement) => void;
}

export interface PlotElement extends HTMLElement {
  readonly on: (event: string, hear: (change: Readonly<Record<string, unknown>>) => void) => void;
}

let loading: Promise<Plotting> | undefined;

/**
 * The library brings 80 kB of style for maps along, which the page's policy would refuse, unless it finds an element of
 * this id. There are no maps here.
 */
const STYLE_OF_MAPS = 'ce8d464691048653ffe3a57c6c18ab566e8366f186677868cf724621a857b4fe';

/** Loads the plotting library, once, after the sheet itself has been drawn. */
export function loadPlotting(): Promise<Plotting> {
  loading ??= new Promise((resolve, reject) => {
    const none = document.createElement('template');
    none.id = STYLE_OF_MAPS;
    document.head.append(none);
    const script = document.createElement('script');
    script.src = plotlyScriptUrl();
    script.onload = () => {
      const library = (window as { Plotly?: Plotting }).Plotly;
      if (library) resolve(library);
      else reject(new Error('the plotting library did not start'));
    };
    script.onerror = () => reject(new Error('the plotting library could not be loaded'));
    document.head.append(script);
  });
  return loading;
}
