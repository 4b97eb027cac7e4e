import { useId } from 'preact/hooks';
import type { Setup } from '../../src/acoustics/setup.js';
import { cleanText } from '../../src/export/words/cleanText.js';
import { formatFrequency } from '../../src/units/formatFrequency.js';
import { formatLength } from '../../src/units/formatLength.js';
import type { PredictedDip, SurfacePrediction } from '../../src/whatIf/predictSurface.js';
import { LengthField } from './LengthField.js';
import { tone } from './tone.js';

const DIPS_TOLD = 3;

interface SurfaceCardProps {
  readonly index: number;
  readonly setup: Setup;
  readonly prediction: SurfacePrediction;
  readonly before: SurfacePrediction | undefined;
  readonly highlighted: boolean;
  readonly onHighlight: ((surface: string | undefined) => void) | undefined;
  /** Moves the speaker; gives what kept it from going all the way. */
  readonly moveTo: (speakerDistanceM: number) => string | undefined;
}

/** One surface: how far the speaker stands from it, to be typed, and where it cancels. */
export function SurfaceCard(props: SurfaceCardProps) {
  const { index, setup, prediction, before, highlighted, onHighlight, moveTo } = props;
  const { name, speakerDistanceM, microphoneDistanceM, pathDifferenceM, dips } = prediction;
  const { lengthUnit } = setup;
  const heading = useId();
  const said = (m: number) => formatLength(m, lengthUnit);
  return (
    <li class={`placement-card ${tone(index)}${highlighted ? ' highlighted' : ''}`} aria-labelledby={heading}>
      <header>
        <span class="placement-number" aria-hidden="true">
          {String(index + 1)}
        </span>
        <h4 id={heading}>{cleanText(name)}</h4>
        {onHighlight && (
          <button
            type="button"
            aria-pressed={highlighted}
            onClick={() => onHighlight(highlighted ? undefined : name)}
          >
            Show
          </button>
        )}
      </header>
      <LengthField label="Speaker away by" m={speakerDistanceM} unit={lengthUnit} onCommit={moveTo} />
      <p>
        {`Microphone away by ${said(microphoneDistanceM)}. Its sound goes ${said(pathDifferenceM)} farther than the straight one.`}
      </p>
      {dips.length === 0 ? (
        <p>So near that it is part of the speaker: it cancels nothing.</p>
      ) : (
        <ol class="placement-dips" aria-label="Cancellations">
          {dips.slice(0, DIPS_TOLD).map((dip, n) => (
            <DipLine dip={dip} before={before?.dips[n]} />
          ))}
        </ol>
      )}
    </li>
  );
}

function DipLine({ dip, before }: { readonly dip: PredictedDip; readonly before: PredictedDip | undefined }) {
  const { expectedHz, frequencyHz, interval, depthDb } = dip;
  const shifted = formatFrequency(expectedHz) !== formatFrequency(frequencyHz);
  const open =
    interval &&
    ` (${formatFrequency(interval.fromHz)} to ${formatFrequency(interval.toHz)} with their tolerances)`;
  return (
    <li>
      <strong>{formatFrequency(expectedHz)}</strong>
      {`, about ${Math.round(depthDb)} dB deep`}
      {before && formatFrequency(before.expectedHz) !== formatFrequency(expectedHz) && (
        <span class="placement-was">{`, was ${formatFrequency(before.expectedHz)}`}</span>
      )}
      {(shifted || open) && (
        <span class="placement-fine">
          {`by the distances alone ${formatFrequency(frequencyHz)}${open ?? ''}`}
        </span>
      )}
    </li>
  );
}
