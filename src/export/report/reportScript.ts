import { FINDINGS } from './plotFigure.js';

/**
 * What runs in the report's page: draws the plot from the figure beside it in the page's own colours, again when
 * the reader changes between light and dark, and opens what is folded before printing.
 */
export const reportScript = `(() => {
  'use strict';
  const figure = document.getElementById('plot-figure');
  const place = document.getElementById('plot');
  const source = document.getElementById('plot-data');
  const draw = () => {
    const style = getComputedStyle(document.documentElement);
    const themed = (value) => {
      if (typeof value === 'string') return value.startsWith('--') ? style.getPropertyValue(value).trim() : value;
      if (Array.isArray(value)) return value.map(themed);
      if (value === null || typeof value !== 'object') return value;
      return Object.fromEntries(Object.entries(value).map(([key, member]) => [key, themed(member)]));
    };
    const { data, layout, marks } = themed(JSON.parse(source.textContent));
    const { y } = marks.filter(({ fromPx }) => place.clientWidth >= fromPx).pop();
    data.find(({ name }) => name === '${FINDINGS}').y = y;
    const narrow = place.clientWidth < 600;
    if (narrow) {
      layout.font.size = 11;
      layout.dragmode = false;
      // No room beside the numbers of the findings: the text below tells what the shade means.
      layout.annotations = [];
    }
    layout.margin = narrow ? { l: 44, r: 14, t: 8, b: 44 } : { l: 60, r: 18, t: 8, b: 48 };
    layout.autosize = true;
    return Plotly.react(place, data, layout, {
      responsive: true,
      displaylogo: false,
      displayModeBar: narrow ? false : 'hover',
      modeBarButtonsToRemove: ['select2d', 'lasso2d', 'autoScale2d'],
      toImageButtonOptions: { format: 'svg', filename: 'before-after' },
    });
  };
  if (typeof Plotly !== 'undefined') {
    figure.classList.add('live');
    Promise.resolve()
      .then(draw)
      .then(() => place.setAttribute('data-drawn', ''))
      .catch(() => figure.classList.remove('live'));
    for (const query of ['(prefers-color-scheme: dark)', '(max-width: 640px)', '(max-width: 980px)']) {
      matchMedia(query).addEventListener('change', draw);
    }
  }
  let opened = [];
  addEventListener('beforeprint', () => {
    opened = [...document.querySelectorAll('details:not([open])')];
    for (const details of opened) details.open = true;
  });
  addEventListener('afterprint', () => {
    for (const details of opened) details.open = false;
  });
})();
`;
