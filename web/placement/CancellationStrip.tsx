import { cleanText } from '../../src/export/words/cleanText.js';
import { formatFrequency } from '../../src/units/formatFrequency.js';
import type { PredictedDip, SurfacePrediction } from '../../src/whatIf/predictSurface.js';
import { tone } from './tone.js';

const FROM_HZ = 40;
const TO_HZ = 3000;
const TICKS: readonly (readonly [number, string])[] = [
  [50, '50'],
  [100, '100'],
  [200, '200'],
  [500, '500'],
  [1000, '1k'],
  [2000, '2k Hz'],
];
const ROW = 26;
/** A cancellation this deep is drawn with the full stroke. */
const DEEP_DB = 12;

interface CancellationStripProps {
  readonly predictions: readonly SurfacePrediction[];
  /** The same surfaces where the speaker was measured. */
  readonly before: readonly SurfacePrediction[] | undefined;
  readonly highlighted: string | undefined;
}

/** Where every surface cancels, over frequency: the deeper, the longer and thicker the stroke. */
export function CancellationStrip({ predictions, before, highlighted }: CancellationStripProps) {
  const height = predictions.length * ROW + 22;
  return (
    <figure class="placement-strip">
      <figcaption>
        Where each surface cancels
        {before && <span class="placement-key">, dotted: where it was measured</span>}
      </figcaption>
      <svg width="100%" height={height} role="img" aria-label={summary(predictions)}>
        {TICKS.map(([hz, label]) => (
          <>
            <line class="grid" x1={x(hz)} x2={x(hz)} y1="0" y2={height - 20} />
            <text class="tick" x={x(hz)} y={height - 5} text-anchor="middle">
              {label}
            </text>
          </>
        ))}
        {predictions.map((prediction, index) => (
          <g
            key={index}
            class={`row ${tone(index)}${prediction.name === highlighted ? ' highlighted' : ''}`}
            transform={`translate(0 ${index * ROW})`}
          >
            <rect class="ground" x="0" y="1" width="100%" height={ROW - 2} />
            {within(before?.[index]?.dips).map(({ expectedHz }) => (
              <line class="before" x1={x(expectedHz)} x2={x(expectedHz)} y1="3" y2={ROW - 3} />
            ))}
            {within(prediction.dips).map((dip) => (
              <Dip dip={dip} />
            ))}
            <circle class="number-ground" cx="11" cy={ROW / 2} r="8" />
            <text class="number" x="11" y={ROW / 2 + 4} text-anchor="middle">
              {String(index + 1)}
            </text>
          </g>
        ))}
      </svg>
    </figure>
  );
}

function Dip({ dip: { expectedHz, frequencyHz, interval, depthDb } }: { readonly dip: PredictedDip }) {
  const share = Math.min(1, depthDb / DEEP_DB);
  const half = 3 + share * (ROW / 2 - 5);
  // What the distances leave open holds for the expected place as for the bare geometry's.
  const lag = expectedHz / frequencyHz;
  return (
    <>
      {interval && (
        <rect
          class="open"
          x={x(interval.fromHz * lag)}
          width={`${percent(interval.toHz * lag) - percent(interval.fromHz * lag)}%`}
          y={ROW / 2 - half}
          height={2 * half}
        />
      )}
      <line
        class="dip"
        x1={x(expectedHz)}
        x2={x(expectedHz)}
        y1={round(ROW / 2 - half)}
        y2={round(ROW / 2 + half)}
        stroke-width={round(1.5 + 2.5 * share)}
      />
    </>
  );
}

const within = (dips: readonly PredictedDip[] = []) =>
  dips.filter(({ expectedHz }) => expectedHz >= FROM_HZ && expectedHz <= TO_HZ);

/** The numbers of the surfaces stand at the left; the axis begins beside them. */
function percent(hz: number): number {
  const share = Math.log(hz / FROM_HZ) / Math.log(TO_HZ / FROM_HZ);
  return round(8 + 90 * Math.min(1, Math.max(0, share)));
}

const x = (hz: number) => `${percent(hz)}%`;

const round = (value: number) => Math.round(value * 100) / 100;

function summary(predictions: readonly SurfacePrediction[]): string {
  const each = predictions.map(({ name, dips }) => {
    const first = dips[0];
    return first
      ? `${cleanText(name)}: first at ${formatFrequency(first.expectedHz)}`
      : `${cleanText(name)}: none`;
  });
  return `Predicted cancellations from ${FROM_HZ} Hz to ${formatFrequency(TO_HZ)}. ${each.join('; ')}. The cards below have the numbers.`;
}
