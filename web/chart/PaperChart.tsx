import { render } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { BeforeAfterPlot } from '../../src/export/plot/BeforeAfterPlot.js';
import { shown } from '../state/shown.js';

/** The curves for paper, on which the chart of the screen, drawn to the pixel for its width, would not fit. */
export function PaperChart() {
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => {
    // At once, not with the next render: the browser lays out what is printed as soon as this has been told.
    const draw = () => {
      const design = shown.peek();
      if (box.current) render(design ? <BeforeAfterPlot design={design} isBare /> : null, box.current);
    };
    const wipe = () => {
      if (box.current) render(null, box.current);
    };
    addEventListener('beforeprint', draw);
    addEventListener('afterprint', wipe);
    return () => {
      removeEventListener('beforeprint', draw);
      removeEventListener('afterprint', wipe);
    };
  }, []);
  return <div class="paper-only paper-chart" ref={box} />;
}
