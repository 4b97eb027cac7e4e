import type { ScaleLogarithmic } from 'd3-scale';
import { coordinate } from './coordinate.js';
import { frequencyTicks } from './frequencyTicks.js';
import type { PanelBox } from './panelBox.js';

/** Labels of a frequency axis under a box, with its title. */
export function FrequencyAxis({
  box,
  x,
}: {
  readonly box: PanelBox;
  readonly x: ScaleLogarithmic<number, number>;
}) {
  const [lowHz, highHz] = x.domain() as [number, number];
  return (
    <g font-size="12" fill="#333" text-anchor="middle">
      {frequencyTicks
        .filter(({ hz }) => hz >= lowHz && hz <= highHz)
        .map(({ hz, label }) => (
          <text x={coordinate(x(hz))} y={box.bottom + 17}>
            {label}
          </text>
        ))}
      <text x={(box.left + box.right) / 2} y={box.bottom + 36} font-size="12.5">
        Frequency (Hz)
      </text>
    </g>
  );
}
